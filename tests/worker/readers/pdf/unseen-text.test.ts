import { createCanvas } from "@napi-rs/canvas";
import { expect, test } from "vitest";
import { readHere } from "../read-in-process.js";
import { drawPdf, drawText, type Pdf } from "./draw-page.js";

const readPage = async (draw: (pdf: Pdf) => void, options: PDFKit.PDFDocumentOptions = {}) => {
  const { tables, doubts } = await readHere(await drawPdf(draw, options));
  const cells = tables.flatMap(({ cells }) => cells);
  return { cells, texts: cells.map(({ text }) => text), codes: doubts.map(({ code }) => code), doubts };
};

const value = (pdf: Pdf, text = "0.020") => drawText(pdf, text, 100, 60);
const box = (pdf: Pdf) => pdf.rect(96, 56, 40, 16);

const unseen: readonly [how: string, draw: (pdf: Pdf) => void][] = [
  ["white on the paper", (pdf) => value(pdf.fillColor("white"))],
  ["nearly white on the paper", (pdf) => value(pdf.fillColor("#f2f2f2"))],
  ["black on a black bar", (pdf) => value(box(pdf).fill("black"))],
  ["transparent", (pdf) => value(pdf.fillOpacity(0.05))],
  ["cut off by a clip", (pdf) => value(pdf.save().rect(0, 0, 50, 50).clip())],
  ["smaller than any print", (pdf) => value(pdf.fontSize(1))],
  ["as a clip", (pdf) => void pdf.addContent("BT 7 Tr /F1 8 Tf 1 0 0 1 100 700 Tm (0.020) Tj ET")],
];

test.each(unseen)("a value %s is not read, and is said", async (_, draw) => {
  const { texts, codes } = await readPage((pdf) => {
    drawText(pdf, "C", 60, 60);
    draw(pdf);
  });
  expect(texts).toEqual(["C"]);
  expect(codes).toEqual(["hidden-text"]);
});

const seen: readonly [how: string, draw: (pdf: Pdf) => void][] = [
  ["in a pale grey", (pdf) => value(pdf.fillColor("#dddddd"))],
  ["white on a blue bar", (pdf) => value(box(pdf).fill("#114477").fillColor("white"))],
  [
    "white on a bar drawn as a thick line",
    (pdf) => {
      pdf.moveTo(90, 63).lineTo(140, 63).lineWidth(16).stroke("#114477");
      value(pdf.fillColor("white"));
    },
  ],
  [
    "white on a bar with round corners",
    (pdf) => value(pdf.roundedRect(96, 56, 40, 16, 4).fill("#114477").fillColor("white")),
  ],
  [
    "white on a gradient",
    (pdf) => {
      const gradient = pdf.linearGradient(96, 56, 136, 56).stop(0, "#114477").stop(1, "#447711");
      value(box(pdf).fill(gradient).fillColor("white"));
    },
  ],
  [
    "under a highlighter",
    (pdf) => {
      value(pdf);
      box(pdf).fillOpacity(0.4).fill("yellow");
    },
  ],
  [
    "in a frame painted afterwards",
    (pdf) => {
      value(pdf);
      pdf.rect(90, 50, 60, 30).rect(92, 52, 56, 26).fill("black", "even-odd");
    },
  ],
  [
    "below a box painted elsewhere",
    (pdf) => {
      value(pdf);
      pdf.rect(96, 40, 40, 14).fill("white");
    },
  ],
  [
    "with a triangle over its corner",
    (pdf) => {
      value(pdf);
      pdf.moveTo(90, 90).lineTo(160, 90).lineTo(160, 40).fill("white");
    },
  ],
  ["inside a clip that leaves it whole", (pdf) => value(pdf.save().rect(90, 50, 80, 30).clip())],
  [
    "under a stamp one can see through",
    (pdf) => {
      value(pdf);
      pdf.image(createCanvas(60, 40).toBuffer("image/png"), 80, 40);
    },
  ],
];

test.each(seen)("a value %s is read", async (_, draw) => {
  const { texts, codes } = await readPage((pdf) => {
    drawText(pdf, "C", 60, 60);
    draw(pdf);
  });
  expect(texts).toEqual(["C", "0.020"]);
  expect(codes).toEqual([]);
});

test("a value painted over is told with its place, and what stands over it says so", async () => {
  const { cells, doubts } = await readPage((pdf) => {
    drawText(pdf, "C", 60, 60);
    value(pdf, "0.034");
    box(pdf).fill("white");
    value(pdf.fillColor("black"), "0.021");
  });
  expect(cells).toMatchObject([{ text: "C" }, { text: "0.021", covers: "0.034" }]);
  expect(cells[0]).not.toHaveProperty("covers");
  expect(doubts).toMatchObject([
    { code: "painted-over", message: expect.stringContaining('"0.034" on page 1'), place: { page: 1 } },
    { code: "hidden-text" },
  ]);
});

test("the same value painted again over its shade covers nothing else", async () => {
  const { cells } = await readPage((pdf) => {
    value(pdf);
    box(pdf).fill("#eeeeee");
    value(pdf.fillColor("black"));
  });
  expect(cells).toHaveLength(1);
  expect(cells[0]).not.toHaveProperty("covers");
});

test("an opaque picture covers what was written before it, not what is written after it", async () => {
  const canvas = createCanvas(60, 40);
  const picture = canvas.toBuffer("image/jpeg");
  const { texts, codes } = await readPage((pdf) => {
    drawText(pdf, "C", 60, 60);
    value(pdf);
    pdf.image(picture, 90, 50, { width: 60, height: 30 });
    drawText(pdf.fillColor("white"), "18.1", 100, 61);
  });
  expect(texts).toEqual(["C", "18.1"]);
  expect(codes).toEqual(["painted-over", "hidden-text"]);
});

test("a layer that is switched off is not read", async () => {
  const bytes = await drawPdf((pdf) => {
    drawText(pdf, "C", 60, 60);
    const layer = pdf.ref({ Type: "OCG", Name: new String("Old values") });
    (layer as unknown as { end(): void }).end();
    const catalog = (pdf as unknown as { _root: { data: Record<string, unknown> } })._root.data;
    catalog.OCProperties = { OCGs: [layer], D: { OFF: [layer], Order: [] } };
    (pdf.page as unknown as { resources: { data: Record<string, unknown> } }).resources.data.Properties = { L: layer };
    pdf.addContent("/OC /L BDC");
    value(pdf);
    pdf.addContent("EMC");
    drawText(pdf, "0.034", 160, 60);
  });
  const { tables, doubts } = await readHere(bytes);
  expect(tables.flatMap(({ cells }) => cells.map(({ text }) => text))).toEqual(["C", "0.034"]);
  expect(doubts).toMatchObject([{ code: "hidden-text" }]);
});

test("a comment is told with its place, and the value it hangs on carries it", async () => {
  const { cells, doubts } = await readPage((pdf) => {
    drawText(pdf, "C", 60, 60);
    value(pdf);
    pdf.note(98, 58, 30, 12, "measured 0.034 by us");
    pdf.highlight(300, 58, 30, 12);
  });
  expect(cells).toMatchObject([{ text: "C" }, { text: "0.020", comment: "measured 0.034 by us" }]);
  expect(cells[0]).not.toHaveProperty("comment");
  expect(doubts).toMatchObject([
    { code: "page-comment", message: expect.stringContaining('"measured 0.034 by us"'), place: { page: 1 } },
  ]);
});
