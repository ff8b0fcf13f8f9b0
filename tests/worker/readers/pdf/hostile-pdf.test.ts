import { expect, test } from "vitest";
import { readHere } from "../read-in-process.js";
import { drawPdf, drawText } from "./draw-page.js";

/** A PDF of one page whose content and further objects are given as they stand. */
function writePdf(content: string, page = "/MediaBox [0 0 595 842]", objects: readonly string[] = []): Buffer {
  const bodies = [
    "<< /Type /Catalog /Pages 2 0 R >>",
    "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
    `<< /Type /Page /Parent 2 0 R ${page} /Contents 4 0 R /Resources << /Font << /F1 << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> /XObject << /X 5 0 R >> >> >>`,
    `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
    ...objects,
  ];
  return Buffer.from(
    `%PDF-1.4\n${bodies.map((body, index) => `${index + 1} 0 obj\n${body}\nendobj\n`).join("")}trailer << /Root 1 0 R >>\n%%EOF`,
    "latin1",
  );
}

const TEXT = "BT /F1 8 Tf 1 0 0 1 60 700 Tm (Heat H4471) Tj ET\n";
const texts = async (bytes: Buffer) =>
  (await readHere(bytes)).tables.flatMap(({ cells }) => cells.map(({ text }) => text));

const harmless: readonly [name: string, bytes: Buffer][] = [
  ["without a table of its objects", writePdf(TEXT)],
  [
    "with 20,000 lines",
    writePdf(
      `${TEXT}${Array.from({ length: 20_000 }, (_, at) => `${at % 500} 10 m ${at % 500} ${20 + (at % 700)} l S`).join("\n")}`,
    ),
  ],
  [
    "with a picture that draws itself",
    writePdf(`${TEXT}/X Do`, undefined, [
      "<< /Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources << /XObject << /X 5 0 R >> >> /Length 5 >>\nstream\n/X Do\nendstream",
    ]),
  ],
  ["with more restores than saves", writePdf(`Q Q Q Q ${TEXT} Q Q`)],
  ["on a page of a kilometre", writePdf(TEXT, "/MediaBox [0 0 3000000 3000000]")],
  ["with a script", writePdf(TEXT, "/MediaBox [0 0 595 842] /AA << /O << /S /JavaScript /JS (while(true){}) >> >>")],
  ["with numbers beyond reason", writePdf(`1e30 0 0 1e30 1e300 1e300 cm 0 0 m 9e99 9e99 l S Q 1 0 0 1 0 0 cm\n`)],
];

test.each(harmless)("a PDF %s does no harm", async (_, bytes) => {
  const read = await texts(bytes);
  if (bytes.includes("H4471") && !bytes.includes("1e30")) expect(read).toContain("Heat H4471");
});

test("40,000 words on a page", async () => {
  const words = Array.from(
    { length: 40_000 },
    (_, at) => `1 0 0 1 ${(at * 7) % 560} ${(at * 13) % 800} Tm (${at % 97}.${at % 89}) Tj`,
  );
  await readHere(writePdf(`BT /F1 4 Tf ${words.join("\n")} ET`), { pageMs: 20_000 });
});

test("text outside the page is not on it", async () => {
  const bytes = await drawPdf((pdf) => {
    drawText(pdf, "C 0.035", 60, 60);
    drawText(pdf, "C 0.020", 60, -60);
    drawText(pdf, "C 0.010", 900, 60);
  });
  expect(await texts(bytes)).toEqual(["C 0.035"]);
});

test("characters of a Type 3 font, drawn large and shown at a size of 1, are no tiny writing", async () => {
  const glyph = "500 0 0 0 500 700 d1 0 0 500 700 re f";
  const font =
    "/Font << /T3 << /Type /Font /Subtype /Type3 /FontBBox [0 0 500 700] /FontMatrix [0.01 0 0 0.01 0 0] /FirstChar 65 /LastChar 65 " +
    "/Widths [500] /Encoding << /Type /Encoding /Differences [65 /A] >> /CharProcs << /A 5 0 R >> >> >>";
  const bytes = writePdf("BT /T3 1 Tf 1 0 0 1 60 700 Tm (AAAA) Tj ET", undefined, [
    `<< /Length ${glyph.length} >>\nstream\n${glyph}\nendstream`,
  ]);
  const withFont = Buffer.from(bytes.toString("latin1").replace(/\/Font << \/F1 [^>]*>> >>/, font), "latin1");
  expect(await texts(withFont)).toEqual(["AAAA"]);
});
