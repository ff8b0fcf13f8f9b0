import { createCanvas } from "@napi-rs/canvas";
import { afterEach, expect, test, vi } from "vitest";
import type { Report, ReportReading } from "../../../core/report/report.js";
import { takePictures } from "../../../worker/jobs/take-pictures.js";
import type { GivenDocument, Verifier } from "../../../worker/jobs/verify-documents.js";

const PNG = createCanvas(30, 20).toBuffer("image/png");
const DOCUMENTS: GivenDocument[] = ["a.pdf", "b.pdf"].map((name) => ({
  name,
  mediaType: "application/pdf",
  sha256: "0".repeat(64),
  path: `/nowhere/${name}`,
}));

afterEach(() => {
  vi.useRealTimers();
});

/** Readings that nothing is certain of, by turns in the two documents, each a line lower. */
function reportOf(count: number): Report {
  const readings = Array.from({ length: count }, (_, index): ReportReading => {
    const evidence = { document: index % 2, page: 1, box: [1, index, 9, 9] } as const;
    return { id: index + 1, quantity: "C", printed: "0", value: "0", unit: "%", confidence: 0.1, evidence };
  });
  const heat = { heat: "H1", verdict: "undetermined", grades: [], readings, findings: [] } as const;
  const documents = DOCUMENTS.map(({ name, sha256 }) => ({ name, sha256, reader: "pdf", doubts: [] }));
  return { report: 1, verdict: "undetermined", requirement: null, documents, heats: [heat], library: [], cautions: [] };
}

const cropping =
  (picture: Uint8Array | undefined): Verifier["crop"] =>
  async (_path, _hint, places) => ({ ok: true, pictures: places.map(() => picture) });

async function kindsOf(crop: Verifier["crop"], count: number) {
  const pictures = await takePictures({ crop }, DOCUMENTS, reportOf(count));
  expect(pictures.map(({ spot }) => spot.box[1])).toEqual(Array.from({ length: count }, (_, index) => index));
  return pictures.map(({ picture }) => (typeof picture === "string" ? picture : "picture"));
}

test("every spot gets its picture, with its size", async () => {
  const pictures = await takePictures({ crop: cropping(PNG) }, DOCUMENTS, reportOf(3));
  expect(pictures.map(({ picture }) => picture)).toEqual(
    Array(3).fill({ png: PNG.toString("base64"), widthPx: 30, heightPx: 20 }),
  );
});

test("a report of tables asks for none", async () => {
  const crop = vi.fn(cropping(PNG));
  expect(await takePictures({ crop }, DOCUMENTS, reportOf(0))).toEqual([]);
  expect(crop).not.toHaveBeenCalled();
});

test("a crop that fails, throws or gives nothing costs only its own document's pictures", async () => {
  for (const failing of [
    async () => ({ ok: false, problem: { code: "timed-out", message: "", advice: "" } }) as const,
    async () => Promise.reject(new Error("the reader is closed")),
    cropping(undefined),
  ] satisfies Verifier["crop"][]) {
    const crop: Verifier["crop"] = (path, hint, places) =>
      path.endsWith("a.pdf") ? failing(path, hint, places) : cropping(PNG)(path, hint, places);
    expect(await kindsOf(crop, 4)).toEqual(["not-made", "picture", "not-made", "picture"]);
  }
});

test("a crop that never ends is waited for no longer than allowed", async () => {
  vi.useFakeTimers();
  const crop: Verifier["crop"] = (path, hint, places) =>
    path.endsWith("a.pdf") ? new Promise(() => {}) : cropping(PNG)(path, hint, places);
  const kinds = kindsOf(crop, 4);
  await vi.advanceTimersByTimeAsync(20_000);
  expect(await kinds).toEqual(["not-made", "picture", "not-made", "picture"]);
});

test("no more are asked for, and no more bytes kept, than a report has room for", async () => {
  const many = await kindsOf(cropping(PNG), 151);
  expect(many.filter((kind) => kind === "picture")).toHaveLength(150);
  expect(many.at(-1)).toBe("too-many");

  const heavy = Buffer.concat([PNG, Buffer.alloc(750_000)]);
  expect(await kindsOf(cropping(heavy), 5)).toEqual(["picture", "picture", "picture", "too-many", "too-many"]);
});
