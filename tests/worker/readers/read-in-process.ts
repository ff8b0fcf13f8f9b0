import type { Cell, ReadDocument } from "../../../core/recogniser/cells.js";
import { DEFAULT_BUDGETS, type ReadBudgets } from "../../../worker/readers/budgets.js";
import { createMeter } from "../../../worker/readers/meter.js";
import { unpackDocument } from "../../../worker/readers/packed-document.js";
import { readBytes } from "../../../worker/readers/read-bytes.js";

/** For tests of what is read; tests of the process go through `createReader`. */
export async function readHere(bytes: Buffer | string, budgets: Partial<ReadBudgets> = {}): Promise<ReadDocument> {
  const meter = createMeter({ ...DEFAULT_BUDGETS, ...budgets });
  const packed = await readBytes(Buffer.from(bytes), { name: "document", mediaType: "" }, meter);
  return unpackDocument(packed);
}

/** One table as rows of texts, gaps as "". */
export function asRows(cells: readonly Cell[]): string[][] {
  const rows: string[][] = [];
  for (const { row, column, text } of cells) {
    while (rows.length <= row) rows.push([]);
    const texts = rows[row]!;
    while (texts.length < column) texts.push("");
    texts[column] = text;
  }
  return rows;
}
