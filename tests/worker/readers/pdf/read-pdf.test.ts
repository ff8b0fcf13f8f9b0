import { expect, test } from "vitest";
import type { Place } from "../../../../core/certificate/evidence.js";
import type { ReadDocument, Table } from "../../../../core/recogniser/cells.js";
import { asRows, readHere } from "../read-in-process.js";
import { CHEMISTRY, drawCertificate, HEADER, IMPACT } from "./draw-certificate.js";
import { drawPdf, drawTable, drawText, type Pdf, type Ruling } from "./draw-page.js";

/** The table whose text at the top left is this. */
function tableOf(document: ReadDocument, corner: string): Table {
  const table = document.tables.find(({ cells }) => cells[0]?.text === corner);
  if (!table) throw new Error(`no table begins with ${corner}: ${document.tables.map(({ cells }) => cells[0]?.text)}`);
  return table;
}

function rowsOf(document: ReadDocument, corner: string): string[][] {
  return asRows(tableOf(document, corner).cells);
}

for (const ruling of ["all", "rows", "none"] as Ruling[]) {
  for (const align of ["center", "left", "right"] as const) {
    test(`a certificate page, lines: ${ruling}, aligned ${align}`, async () => {
      const document = await readHere(await drawPdf((pdf) => drawCertificate(pdf, ruling, align)));
      expect(rowsOf(document, "Heat No.")).toEqual(CHEMISTRY);
      expect(rowsOf(document, "Test piece").slice(1)).toEqual([
        ["", "Rp0.2", "Rp1.0", "MPa", "%"],
        ["H4471-1", "285", "331", "612", "54", "172"],
        ["H4472-1", "291", "338", "620", "52.5", "175"],
      ]);
      expect(rowsOf(document, "Heat")).toEqual(IMPACT);
      expect(rowsOf(document, HEADER[0]![0])).toEqual([
        [...HEADER[0]!, ...HEADER[1]!],
        [...HEADER[2]!, ...HEADER[3]!],
      ]);
      const texts = document.tables.flatMap(({ cells }) => cells.map(({ text }) => text));
      expect(texts).toContain("Impact test EN ISO 148-1, KV2, 10 x 10 mm");
      expect(texts).toContain("We certify that the goods comply with the order. Works inspector: I. Brandt");
      expect(document.tables.filter(({ disputed }) => disputed)).toEqual([]);
    });
  }
}

test("a heading over two columns has its span", async () => {
  const document = await readHere(await drawPdf((pdf) => drawCertificate(pdf, "all")));
  expect(tableOf(document, "Test piece").cells[1]).toMatchObject({
    text: "Yield strength MPa",
    column: 1,
    columnSpan: 2,
  });
});

test("columns ruled, rows not", async () => {
  const table = { x: 40, y: 60, widths: [70, ...Array(8).fill(48)], rows: CHEMISTRY, ruling: "columns" } as const;
  const document = await readHere(await drawPdf((pdf) => void drawTable(pdf, table)));
  expect(rowsOf(document, "Heat No.")).toEqual(CHEMISTRY);
  expect(document.tables[0]).not.toHaveProperty("disputed");
});

test("a cell's box is where its ink stands, in points from the top left", async () => {
  const document = await readHere(await drawPdf((pdf) => drawText(pdf, "0.024", 100, 200)));
  const [cell] = document.tables[0]!.cells;
  const { page, box } = cell!.place as Extract<Place, { page: number }>;
  expect(page).toBe(1);
  const [x, y, width, height] = box;
  expect([x, Math.round(width)]).toEqual([100, 20]); // Helvetica: 5 characters, 4 of 0.556 em and one of 0.278, at 8 points.
  expect(y).toBeGreaterThan(199);
  expect(y + height).toBeLessThan(209);
});

const turned: readonly [name: string, degrees: number, pageTurn: number][] = [
  ["a page whose writing runs up", -90, 0],
  ["a page whose writing runs down", 90, 0],
  ["a sideways page that is shown upright", -90, 90],
  ["a page upside down", 180, 0],
];

test.each(turned)("%s", async (_, degrees, pageTurn) => {
  const document = await readHere(
    await drawPdf((pdf) => {
      if (pageTurn) Object.assign(pdf.page.dictionary.data, { Rotate: pageTurn });
      pdf.rotate(degrees, { origin: [297, 420] }).translate(0, degrees === 180 ? 0 : 120);
      drawTable(pdf, { x: 60, y: 120, widths: [70, ...Array(8).fill(48)], rows: CHEMISTRY, ruling: "all" });
      drawText(pdf, "Heat analysis", 60, 100);
    }),
  );
  expect(rowsOf(document, "Heat No.")).toEqual(CHEMISTRY);
  const { box } = tableOf(document, "Heat No.").cells[0]!.place as Extract<Place, { page: number }>;
  const isTall = box[3] > box[2];
  expect(isTall).toBe(pageTurn === 0 && Math.abs(degrees) === 90);
});

test("a landscape page", async () => {
  const wide = { x: 40, y: 60, widths: Array(16).fill(46), ruling: "none" } as const;
  const rows = [0, 1, 2].map((row) => Array.from({ length: 16 }, (_, column) => `${row}.${column + 10}`));
  const document = await readHere(
    await drawPdf((pdf) => void drawTable(pdf, { ...wide, rows }), { layout: "landscape" }),
  );
  expect(rowsOf(document, "0.10")).toEqual(rows);
});

test("stacked tables in one frame are cut where their columns change", async () => {
  const document = await readHere(
    await drawPdf((pdf) => {
      const y = drawTable(pdf, {
        x: 40,
        y: 60,
        widths: Array(6).fill(80),
        ruling: "all",
        rows: [
          [["Chemical composition %", 6]],
          ["Heat", "C", "Si", "Mn", "Cr", "Ni"],
          ["H4471", "0.024", "0.41", "1.52", "18.12", "8.05"],
        ],
      });
      drawTable(pdf, {
        x: 40,
        y,
        widths: [120, 120, 120, 120],
        ruling: "all",
        rows: [[["Mechanical properties", 4]], ["Heat", "Rm MPa", "Rp0.2 MPa", "A %"], ["H4471", "612", "285", "54"]],
      });
    }),
  );
  expect(document.tables.map(({ cells }) => asRows(cells))).toEqual([
    [
      ["Chemical composition %"],
      ["Heat", "C", "Si", "Mn", "Cr", "Ni"],
      ["H4471", "0.024", "0.41", "1.52", "18.12", "8.05"],
    ],
    [["Mechanical properties"], ["Heat", "Rm MPa", "Rp0.2 MPa", "A %"], ["H4471", "612", "285", "54"]],
  ]);
});

test("a frame round the whole page swallows nothing", async () => {
  const document = await readHere(
    await drawPdf((pdf) => {
      pdf.rect(20, 20, 555, 800).stroke();
      pdf.moveTo(20, 100).lineTo(575, 100).stroke();
      drawCertificate(pdf, "none");
    }),
  );
  expect(rowsOf(document, "Heat No.")).toEqual(CHEMISTRY);
  expect(rowsOf(document, "Heat")).toEqual(IMPACT);
});

test("boxes of a form: a row of labels and a row of values", async () => {
  const rows = [
    ["Certificate No.\nNH-20418", "Date\n2026-03-05"],
    ["Order\nP-7781", "Heat No.\nH4471"],
  ];
  const table = { x: 40, y: 60, widths: [200, 200], rowHeight: 26, rows, ruling: "all", align: "left" } as const;
  const document = await readHere(await drawPdf((pdf) => void drawTable(pdf, table)));
  expect(rowsOf(document, "Certificate No.")).toEqual([
    ["Certificate No.", "Date"],
    ["NH-20418", "2026-03-05"],
    ["Order", "Heat No."],
    ["P-7781", "H4471"],
  ]);
});

test("a value in two lines stays in its cell", async () => {
  const rows = [
    ["Product", "Heat", "C %"],
    ["Plate\nhot rolled", "H4471", "0.024"],
  ];
  const table = { x: 40, y: 60, widths: [120, 80, 80], rowHeight: 26, rows, ruling: "all" } as const;
  const document = await readHere(await drawPdf((pdf) => void drawTable(pdf, table)));
  expect(rowsOf(document, "Product")).toEqual(rows);
});

test("every page's repeated heading stands with its rows", async () => {
  const document = await readHere(
    await drawPdf((pdf) => {
      for (const heat of ["H1", "H2", "H3"]) {
        if (heat !== "H1") pdf.addPage();
        drawTable(pdf, {
          x: 40,
          y: 60,
          widths: [80, 80],
          rows: [
            ["Heat", "C %"],
            [heat, "0.024"],
          ],
          ruling: "all",
        });
      }
    }),
  );
  expect(document.pages).toBe(3);
  expect(document.tables.map(({ cells }) => [cells[2]!.text, cells[2]!.place])).toMatchObject([
    ["H1", { page: 1 }],
    ["H2", { page: 2 }],
    ["H3", { page: 3 }],
  ]);
});

test("characters drawn one by one in any order are words again", async () => {
  const text = "Heat H4471 C 0.024";
  const document = await readHere(
    await drawPdf((pdf) => {
      const letters = [...text].map((letter, index) => ({ letter, x: 60 + pdf.widthOfString(text.slice(0, index)) }));
      for (const { letter, x } of letters.reverse()) if (letter !== " ") drawText(pdf, letter, x, 80);
    }),
  );
  expect(document.tables[0]!.cells.map((cell) => cell.text).join(" ")).toBe(text);
});

test("a raised exponent, a lowered index, bold by printing twice, a struck-out value", async () => {
  const document = await readHere(
    await drawPdf((pdf) => {
      drawText(pdf, "P ×10", 60, 60);
      pdf.fontSize(5);
      drawText(pdf, "-3", 60 + 8 * 2.6, 59);
      pdf.fontSize(8);
      drawText(pdf, "Rp", 60, 90);
      pdf.fontSize(5);
      drawText(pdf, "0.2", 60 + 8 * 1.28, 94);
      pdf.fontSize(8);
      drawText(pdf, "Total", 60, 120);
      drawText(pdf, "Total", 60.3, 120);
      drawText(pdf, "0.040", 60, 150);
      pdf.moveTo(59, 153.5).lineTo(82, 153.5).stroke();
    }),
  );
  const cells = document.tables.flatMap((table) => table.cells);
  expect(cells.map(({ text, struck }) => [text, struck ?? false])).toEqual([
    ["P ×10⁻³", false],
    ["Rp0.2", false],
    ["Total", false],
    ["0.040", true],
  ]);
});

test("text that nobody sees is not read and is said", async () => {
  const document = await readHere(
    await drawPdf((pdf) => {
      drawText(pdf, "C 0.035", 60, 60);
      pdf.addContent("BT 3 Tr /F1 8 Tf 1 0 0 1 60 700 Tm (C 0.020) Tj ET");
    }),
  );
  expect(document.tables.flatMap(({ cells }) => cells.map(({ text }) => text))).toEqual(["C 0.035"]);
  expect(document.doubts).toMatchObject([{ code: "hidden-text" }]);
});

const page = (pdf: Pdf) => drawText(pdf, "Heat H4471", 60, 60);

test("a PDF with a password is refused by name; one that only forbids printing is read", async () => {
  await expect(readHere(await drawPdf(page, { userPassword: "open" }))).rejects.toMatchObject({ code: "encrypted" });
  const restricted = await drawPdf(page, { ownerPassword: "owner", permissions: {} });
  expect((await readHere(restricted)).tables[0]!.cells[0]!.text).toBe("Heat H4471");
});

test("a cut-off PDF and one of too many pages are refused by name", async () => {
  const bytes = await drawPdf(page);
  await expect(readHere(bytes.subarray(0, 300))).rejects.toMatchObject({ code: "truncated" });
  const two = await drawPdf((pdf) => void page(pdf.addPage()));
  await expect(readHere(two, { pages: 1 })).rejects.toMatchObject({ code: "too-many-pages" });
});
