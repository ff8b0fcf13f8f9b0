import type { Place } from "../../core/certificate/evidence.js";
import type { Cell } from "../../core/recogniser/cells.js";
import type { CellMarks, PackedTable } from "./packed-document.js";

/** Takes cells one by one and keeps them packed. */
export interface TableWriter {
  /** A cell of a sheet needs no place; a line is enough where the field's number is the cell's column. */
  add(cell: Omit<Cell, "place" | "confidence"> & { confidence?: number }, place?: Place | number): void;
  finish(table: Pick<PackedTable, "name" | "hidden" | "disputed">): PackedTable;
}

export function createTableWriter(sheet?: string): TableWriter {
  const rows: number[] = [];
  const columns: number[] = [];
  const texts: string[] = [];
  const numbers: (string | 0 | 1)[] = [];
  const places: (Place | number)[] = [];
  const marks: number[] = [];
  const markSets = createMarkSets();

  return {
    add({ row, column, text, number, ...rest }, place) {
      rows.push(row);
      columns.push(column);
      texts.push(text);
      numbers.push(number === undefined ? 0 : number === text ? 1 : number);
      if (sheet === undefined) places.push(place!);
      marks.push(markSets.indexOf(rest));
    },
    finish(table) {
      const packed: PackedTable = {
        ...table,
        rows,
        columns,
        texts,
        numbers,
        places: sheet ?? places,
        marks,
        markSets: markSets.all,
      };
      return isInReadingOrder(packed) ? packed : sortInReadingOrder(packed);
    },
  };
}

/** Marks of a cell that is known by its position, changed after the cell was written. */
export function addMarks(table: PackedTable, index: number, marks: CellMarks): void {
  const merged = { ...table.markSets[table.marks[index]!], ...marks };
  const key = JSON.stringify(merged);
  let at = table.markSets.findIndex((known) => JSON.stringify(known) === key);
  if (at < 0) at = table.markSets.push(merged) - 1;
  table.marks[index] = at;
}

function createMarkSets(): { readonly all: CellMarks[]; indexOf(marks: CellMarks): number } {
  const all: CellMarks[] = [{}];
  const known = new Map<string, number>();
  return {
    all,
    indexOf(marks) {
      if (isEmpty(marks)) return 0;
      // A confidence of 1 is what a cell has without marks.
      const { confidence, ...others } = marks;
      const kept = confidence === undefined || confidence === 1 ? others : marks;
      const key = JSON.stringify(kept);
      if (key === "{}") return 0;
      const index = known.get(key) ?? all.push(kept) - 1;
      known.set(key, index);
      return index;
    },
  };
}

/** Most cells of most tables have no marks, and there may be a million. */
function isEmpty(marks: CellMarks): boolean {
  for (const _ in marks) return false;
  return true;
}

function isInReadingOrder({ rows, columns }: PackedTable): boolean {
  return rows.every((row, index) => {
    const before = rows[index - 1];
    return before === undefined || before < row || (before === row && columns[index - 1]! < columns[index]!);
  });
}

function sortInReadingOrder(table: PackedTable): PackedTable {
  const { rows, columns, texts, numbers, places, marks } = table;
  const order = rows.map((_, index) => index);
  order.sort((left, right) => rows[left]! - rows[right]! || columns[left]! - columns[right]!);
  const pick = <T>(values: readonly T[]) => order.map((index) => values[index]!);
  return {
    ...table,
    rows: pick(rows),
    columns: pick(columns),
    texts: pick(texts),
    numbers: pick(numbers),
    places: typeof places === "string" ? places : pick(places),
    marks: pick(marks),
  };
}
