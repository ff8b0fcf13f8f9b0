import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { createCanvas, loadImage } from "@napi-rs/canvas";
import * as utifModule from "utif2";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import type { Place } from "../../../../core/certificate/evidence.js";
import type { ReadDocument } from "../../../../core/recogniser/cells.js";
import { createReader, type DocumentReader } from "../../../../worker/readers/read-document.js";
import { drawPdf, drawTable, drawText } from "../pdf/draw-page.js";
import { makeScan } from "./make-scan.js";

const ROWS = [
  ["Heat No.", "C %", "Si %", "Mn %", "Cr %", "Ni %"],
  ["H4471", "0.024", "0.41", "1.52", "18.12", "8.05"],
  ["H4472", "0.019", "0.50", "1.48", "18.30", "8.11"],
];
const PAGE = { size: [400, 170] as [number, number], margin: 10 };
const POINTS_PER_INCH = 72;
const DPI = 200;

const UTIF = (utifModule as unknown as { default?: typeof utifModule }).default ?? utifModule;

// Two engines are started with the first page, beside whatever else the machine does.
vi.setConfig({ testTimeout: 150_000 });

let folder: string;
let reader: DocumentReader;
let scan: Buffer;

beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), "heatgate-scans-"));
  reader = createReader({ children: 1 });
  const page = await drawPdf((pdf) => {
    drawText(pdf, "Chemical composition, heat analysis", 30, 30);
    drawTable(pdf, { x: 30, y: 50, widths: [70, 50, 50, 50, 50, 50], rows: ROWS, ruling: "all", fontSize: 9 });
  }, PAGE);
  scan = await makeScan(page, { dpi: DPI, skewDegrees: 1.3, noise: 18, jpegQuality: 75 });
});
afterAll(async () => {
  await reader.close();
  await rm(folder, { recursive: true });
});

async function read(name: string, bytes: Buffer): Promise<{ file: string; document: ReadDocument }> {
  const file = path.join(folder, name);
  await writeFile(file, bytes);
  const result = await reader.read(file, { name, mediaType: "" });
  if (!result.ok) throw new Error(result.problem.message);
  return { file, document: result.document };
}

/** Nothing may be wrong and sure; and most is to be right. */
function expectRows({ tables }: ReadDocument): void {
  const cells = tables.find((table) => table.cells.length > 12)!.cells;
  // Recognition loses spaces beside signs: "C%".
  const tight = (text: string | undefined) => text?.replaceAll(" ", "");
  const wrong = cells.filter(({ row, column, text }) => tight(text) !== tight(ROWS[row]?.[column]));
  expect(wrong.filter(({ confidence }) => confidence >= 0.85)).toEqual([]);
  expect(cells.length - wrong.length).toBeGreaterThanOrEqual(16);
}

function boxOf({ tables }: ReadDocument, text: string): readonly number[] {
  const cell = tables.flatMap(({ cells }) => cells).find((candidate) => candidate.text === text);
  return (cell!.place as Extract<Place, { page: number }>).box;
}

test("a skewed, speckled scan as a picture: cells from its lines, confidence per cell, boxes in its own pixels", async () => {
  const { document } = await read("scan.jpg", scan);
  expect(document).toMatchObject({
    reader: "image",
    pages: 1,
    notes: [expect.stringContaining("straightened by 1.3")],
  });
  expectRows(document);
  // "18.12" stands in the fifth column's cell from x = 250, second row from y = 65; the scan turned it by 1.3°.
  const [x, y, width, height] = boxOf(document, "18.12") as [number, number, number, number];
  const centre = [((x + width / 2) / DPI) * POINTS_PER_INCH, ((y + height / 2) / DPI) * POINTS_PER_INCH];
  expect(Math.hypot(centre[0]! - 276.5, centre[1]! - 74)).toBeLessThan(4);
});

test("the same scan inside a PDF: boxes in points; a picture of a place can be cut out", async () => {
  const pdf = await drawPdf((page) => void page.image(scan, 0, 0, { width: 400 }), PAGE);
  const { file, document } = await read("scan.pdf", pdf);
  expect(document).toMatchObject({
    reader: "pdf",
    notes: [expect.stringMatching(/^page 1: OCR at 300 dpi, straightened/)],
  });
  expectRows(document);
  const [x, y, width, height] = boxOf(document, "18.12") as [number, number, number, number];
  expect(Math.hypot(x + width / 2 - 276.5, y + height / 2 - 74)).toBeLessThan(4);

  const places: Place[] = [
    { page: 1, box: [x, y, width, height] },
    { line: 1, column: 1 },
    { page: 9, box: [0, 0, 5, 5] },
    { page: 1, box: [0, 0, 400, 300] },
  ];
  const result = await reader.crop(file, { name: "scan.pdf", mediaType: "" }, places);
  const pictures = result.ok ? result.pictures : [];
  expect(pictures.map((picture) => picture !== undefined)).toEqual([true, false, false, true]);
  const picture = await loadImage(Buffer.from(pictures[0]!));
  expect(picture.width).toBeGreaterThan(width * 2);
  expect(picture.height).toBeLessThan(120);
  const page = await loadImage(Buffer.from(pictures[3]!));
  expect(page.width).toBeLessThanOrEqual(640);
});

test("a TIFF is read as the other pictures are", async () => {
  const picture = await loadImage(scan);
  const canvas = createCanvas(picture.width, picture.height);
  canvas.getContext("2d").drawImage(picture, 0, 0);
  const { data } = canvas.getContext("2d").getImageData(0, 0, picture.width, picture.height);
  const page = new Uint8Array(UTIF.encodeImage(new Uint8Array(data), picture.width, picture.height));
  const { document } = await read("scan.tiff", Buffer.from(page));
  expect(document).toMatchObject({ reader: "image", pages: 1 });
  expectRows(document);
});

test("a scan on its side", async () => {
  const picture = await loadImage(scan);
  const canvas = createCanvas(picture.height, picture.width);
  const context = canvas.getContext("2d");
  context.translate(canvas.width / 2, canvas.height / 2);
  context.rotate(Math.PI / 2);
  context.drawImage(picture, -picture.width / 2, -picture.height / 2);
  const { document } = await read("turned.png", canvas.toBuffer("image/png"));
  expectRows(document);
  const [x, y, across, down] = boxOf(document, "18.12") as [number, number, number, number];
  const centre = [((x + across / 2) / DPI) * POINTS_PER_INCH, ((y + down / 2) / DPI) * POINTS_PER_INCH];
  expect(Math.hypot(centre[0]! - (170 - 74), centre[1]! - 276.5)).toBeLessThan(4);
});

test("an empty page is a doubt, not an empty report", async () => {
  const blank = await makeScan(await drawPdf(() => {}, PAGE), { dpi: 100, skewDegrees: 0, noise: 10, jpegQuality: 75 });
  const file = path.join(folder, "blank.jpg");
  await writeFile(file, blank);
  expect(await reader.read(file, { name: "blank.jpg", mediaType: "" })).toMatchObject({
    ok: false,
    problem: { code: "no-text" },
  });
  const { document } = await read(
    "blank.pdf",
    await drawPdf((page) => void page.image(blank, 0, 0, { width: 400 }), PAGE),
  );
  expect(document.doubts).toMatchObject([{ code: "no-text" }]);
});
