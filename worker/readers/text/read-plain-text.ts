import type { Meter } from "../meter.js";
import type { PackedDocument } from "../packed-document.js";
import { createTableWriter } from "../table-writer.js";
import type { TextEncoding } from "./decode-text.js";

/** Plain text, an e-mail's body say: a line is a row, and two spaces or a tab part its cells. */
export function readPlainText(text: string, encoding: TextEncoding, meter: Meter): PackedDocument {
  const writer = createTableWriter();
  text.split("\n").forEach((line, row) => {
    meter.row();
    splitLine(line).forEach((piece, column) => {
      meter.cell(piece);
      writer.add({ row, column, text: piece }, row + 1);
    });
  });
  return { reader: "text", tables: [writer.finish({ name: "text" })], doubts: [], notes: [`plain text, ${encoding}`] };
}

function splitLine(line: string): string[] {
  return line
    .split(/\s{2,}|\t/)
    .map((piece) => piece.trim())
    .filter((piece) => piece !== "");
}
