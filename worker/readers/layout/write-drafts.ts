import type { Meter } from "../meter.js";
import type { PackedTable } from "../packed-document.js";
import { createTableWriter } from "../table-writer.js";
import { bandRows } from "./band-rows.js";
import type { TableDraft } from "./table-draft.js";
import { unionBox, type Word } from "./word.js";

/** Tables of one page as they are handed over; a cell's lines stay lines. */
export function writeDrafts(drafts: readonly TableDraft[], page: number, meter: Meter): PackedTable[] {
  return drafts.map((draft, index) => {
    const writer = createTableWriter();
    for (const { row, column, rowSpan, columnSpan, words } of draft.cells) {
      const struck = words.filter((word) => word.struck);
      const isStruck = struck.length === words.length;
      const read = isStruck ? words : words.filter((word) => !word.struck);
      const text = spellLines(read);
      meter.cell(text);
      const box = unionBox(read.map((word) => word.box)).map(toTenth) as [number, number, number, number];
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

function toTenth(points: number): number {
  return Math.round(points * 10) / 10;
}
