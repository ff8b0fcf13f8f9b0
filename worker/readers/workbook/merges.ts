import type { PackedTable } from "../packed-document.js";
import { ReadFailure } from "../problem.js";
import { addMarks } from "../table-writer.js";
import { parseCellReference } from "./cell-reference.js";

/** Corners of merged cells, from 0 and inclusive. */
export interface Merge {
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
}

export function createMergeList(limit: number): { add(reference: string): void; all(): Merge[] } {
  const merges: Merge[] = [];
  return {
    add(reference) {
      const [from, to] = reference.split(":").map((corner) => parseCellReference(corner));
      if (!from || !to) return;
      merges.push({ top: from.row, left: from.column, bottom: to.row, right: to.column });
      if (merges.length > limit) throw new ReadFailure("too-many-cells", `It has more than ${limit} merged cells.`);
    },
    all: () => merges.sort((first, second) => first.top - second.top),
  };
}

/**
 * Gives the top left cell of each merge its span. What else is stored under a merge a person does not see: it is marked hidden.
 * A span never reaches beyond the cells there are, for a merge may cover the whole sheet.
 */
export function applyMerges(table: PackedTable, merges: readonly Merge[]): void {
  if (merges.length === 0) return;
  const { rows, columns } = table;
  const lastRow = rows.at(-1) ?? 0;
  const lastColumn = columns.reduce((last, column) => Math.max(last, column), 0);
  let open: Merge[] = [];
  let next = 0;
  let current = -1;
  rows.forEach((row, index) => {
    if (row !== current) {
      current = row;
      while (next < merges.length && merges[next]!.top <= row) open.push(merges[next++]!);
      open = open.filter((merge) => merge.bottom >= row);
    }
    const column = columns[index]!;
    const merge = open.find(({ left, right }) => column >= left && column <= right);
    if (!merge) return;
    if (merge.top !== row || merge.left !== column) {
      addMarks(table, index, { hidden: true });
      return;
    }
    const rowSpan = Math.min(merge.bottom, lastRow) - merge.top + 1;
    const columnSpan = Math.min(merge.right, lastColumn) - merge.left + 1;
    const spans = { ...(rowSpan > 1 ? { rowSpan } : {}), ...(columnSpan > 1 ? { columnSpan } : {}) };
    if (rowSpan > 1 || columnSpan > 1) addMarks(table, index, spans);
  });
}
