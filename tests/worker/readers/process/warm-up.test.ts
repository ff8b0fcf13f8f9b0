import { expect, test, vi } from "vitest";
import { warmUp } from "../../../../worker/readers/process/warm-up.js";

const seen = vi.hoisted(() => ({ texts: 0, pictures: 0 }));
vi.mock(import("../../../../worker/readers/read-bytes.js"), async (original) => {
  const { readBytes } = await original();
  return {
    readBytes: async (...given) => {
      const document = await readBytes(...given);
      seen.texts = document.tables.reduce((sum, { texts }) => sum + texts.length, 0);
      return document;
    },
  };
});
vi.mock(import("../../../../worker/readers/scan/crop-pictures.js"), async (original) => {
  const { cropPictures } = await original();
  return {
    cropPictures: async (...given) => {
      const pictures = await cropPictures(...given);
      seen.pictures = pictures.filter((picture) => picture !== undefined).length;
      return pictures;
    },
  };
});

test("its own page is a true PDF: every cell of it is read, and a place cut out", async () => {
  await warmUp();
  expect(seen).toEqual({ texts: 96, pictures: 1 });
});
