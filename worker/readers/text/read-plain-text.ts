import { buildStreamTables } from "../layout/stream-tables.js";
import type { TableDraft } from "../layout/table-draft.js";
import type { Word } from "../layout/word.js";
import type { Meter } from "../meter.js";
import type { PackedDocument, PackedTable } from "../packed-document.js";
import { createTableWriter } from "../table-writer.js";
import type { TextEncoding } from "./decode-text.js";

/** A line's height and pitch in widths of a character: two spaces part cells, one does not, and a blank line ends no table. */
const LINE_HEIGHT = 1.85;
const LINE_PITCH = 2.4;

/** Plain text, an e-mail's body say, laid out as on a typewriter: what stands under each other is a table. */
export function readPlainText(text: string, encoding: TextEncoding, meter: Meter): PackedDocument {
  const words = text.split("\n").flatMap((line, index) => {
    meter.row();
    return splitLine(line, index);
  });
  const tables = buildStreamTables(words, { isTyped: true }).map((draft) => writeDraft(draft, meter));
  return { reader: "text", tables, doubts: [], notes: [`plain text, ${encoding}`] };
}

function splitLine(line: string, index: number): Word[] {
  const top = index * LINE_PITCH;
  return [...expandTabs(line).matchAll(/\S+/g)].map((match) => {
    const left = match.index;
    const right = left + match[0].length;
    const box = [left, index, match[0].length, 1] as const;
    return { text: match[0], left, right, top, bottom: top + LINE_HEIGHT, box, confidence: 1 };
  });
}

function expandTabs(line: string): string {
  return line.replace(/([^\t]*)\t/g, (_, before: string) => before.padEnd(Math.floor(before.length / 8) * 8 + 8));
}

/** The box of a word keeps its line and its column of characters, from 0. */
function writeDraft(draft: TableDraft, meter: Meter): PackedTable {
  const writer = createTableWriter();
  for (const { row, column, columnSpan, words } of draft.cells) {
    const text = words.map((word) => word.text).join(" ");
    const [from, line] = words[0]!.box;
    meter.cell(text);
    const span = columnSpan > 1 ? { columnSpan } : {};
    writer.add({ row, column, text, ...span }, { line: line + 1, column: from + 1 });
  }
  return writer.finish({ name: "text", ...(draft.disputed ? { disputed: true } : {}) });
}
