import type { Meter } from "../meter.js";
import type { PackedTable } from "../packed-document.js";
import { createTableWriter } from "../table-writer.js";
import { bandRows } from "./band-rows.js";
import type { TableDraft } from "./table-draft.js";
import { roundBox, unionBox, type Word } from "./word.js";

/** Tables of one page as they are handed over; a cell's lines stay lines. */
export function writeDrafts(drafts: readonly TableDraft[], page: number, meter: Meter): PackedTable[] {
  return drafts.map((draft, index) => {
    const writer = createTableWriter();
    for (const { row, column, rowSpan, columnSpan, words } of draft.cells) {
      const struck = words.filter((word) => word.struck);
      const isStruck = struck.length === words.length;
      const read = isStruck ? words : words.filter((word) => !word.struck);
      const text = spellLines(read);
      const comments = [...new Set(read.flatMap(({ comment }) => comment ?? []))];
      const covered = read.flatMap(({ covers }) => covers ?? []);
      meter.cell(text);
      const box = roundBox(unionBox(read.map((word) => word.box)));
      writer.add(
        {
          row,
          column,
          text,
          confidence: Math.min(...read.map((word) => word.confidence)),
          ...(rowSpan > 1 ? { rowSpan } : {}),
          ...(columnSpan > 1 ? { columnSpan } : {}),
          ...(read.every((word) => word.bold) ? { bold: true } : {}),
          ...(isStruck ? { struck: true } : {}),
          ...(comments.length > 0 ? { comment: comments.join("; ") } : {}),
          ...(covered.length > 0 ? { covers: covered.join(" ") } : {}),
        },
        { page, box },
      );
    }
    return writer.finish({ name: `page ${page}, block ${index + 1}`, ...(draft.disputed ? { disputed: true } : {}) });
  });
}

function spellLines(words: readonly Word[]): string {
  return bandRows(words)
    .map((line) => line.map(({ text }) => text).join(" "))
    .join("\n");
}
