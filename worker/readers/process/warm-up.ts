import { DEFAULT_BUDGETS } from "../budgets.js";
import { createMeter } from "../meter.js";
import { readBytes } from "../read-bytes.js";

/**
 * Reads and crops a page of its own, so that the libraries are loaded and the code is compiled before the first document comes.
 * Nothing of it is kept. For children that wait; one that has work at once should do that.
 */
export async function warmUp(): Promise<void> {
  const page = Buffer.from(writePdf(), "latin1");
  const meter = createMeter(DEFAULT_BUDGETS);
  const { recognisedLines } = await import("../recognised-document.js");
  for (let round = 0; round < ROUNDS; round++) {
    const document = await readBytes(page, { name: "", mediaType: "" }, meter);
    for (const _line of recognisedLines(document, 0));
  }
  const { cropPictures } = await import("../scan/crop-pictures.js");
  await cropPictures(page, [{ page: 1, box: [60, 60, 30, 9] }], meter);
}

/** Often enough for the compiler to take notice. */
const ROUNDS = 3;
const ROWS = 12;
const COLUMNS = 8;

/** One page with a ruled table, as small as a PDF can be. */
function writePdf(): string {
  const cells = Array.from({ length: ROWS * COLUMNS }, (_, index) => {
    const [x, y] = [60 + 55 * (index % COLUMNS), 760 - 16 * Math.floor(index / COLUMNS)];
    return `${x - 4} ${y - 5} 55 16 re S BT /F1 8 Tf 1 0 0 1 ${x} ${y} Tm (0.0${index}) Tj ET`;
  });
  const content = cells.join("\n");
  const objects = [
    "<< /Type /Catalog /Pages 2 0 R >>",
    "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
    "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>",
    `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
    "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
  ];
  let body = "%PDF-1.4\n";
  const offsets = objects.map((object, index) => {
    const offset = body.length;
    body += `${index + 1} 0 obj\n${object}\nendobj\n`;
    return `${String(offset).padStart(10, "0")} 00000 n \n`;
  });
  const head = `xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${offsets.join("")}`;
  return `${body}${head}trailer << /Size ${objects.length + 1} /Root 1 0 R >>\nstartxref\n${body.length}\n%%EOF`;
}
