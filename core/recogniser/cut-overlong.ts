import type { Cell, PlacedDoubt, ReadDocument } from "./cells.js";

/** Characters. Nothing that is read from one cell is longer: neither a value, nor a title, nor a remark. */
const LONGEST_TEXT = 500;

/**
 * Of a cell with more text than anybody reads from one, the beginning is kept, which is trusted in nothing, and a doubt says so. Looking for
 * patterns in text takes time that grows with the square of its length: one cell with a megabyte of blanks would hold a worker for hours.
 */
export function cutOverlong(document: ReadDocument): ReadDocument {
  const cut: Cell[] = [];
  const tables = document.tables.map((table) =>
    table.cells.some(isOverlong)
      ? { ...table, cells: table.cells.map((cell) => (isOverlong(cell) ? cutText(cell, cut) : cell)) }
      : table,
  );
  if (cut.length === 0) return document;
  return {
    ...document,
    tables,
    doubts: [...document.doubts, ...cut.slice(0, MOST_DOUBTS).map(doubtOf), ...rest(cut.length)],
  };
}

const MOST_DOUBTS = 20;

function isOverlong({ text, comment = "" }: Cell): boolean {
  return Math.max(text.length, comment.length) > LONGEST_TEXT;
}

function cutText(cell: Cell, cut: Cell[]): Cell {
  cut.push(cell);
  const { text, comment } = cell;
  const kept = comment === undefined ? {} : { comment: comment.slice(0, LONGEST_TEXT) };
  return { ...cell, ...kept, text: text.slice(0, LONGEST_TEXT), confidence: 0 };
}

function doubtOf({ text: own, comment = "", place }: Cell): PlacedDoubt {
  const text = own.length > LONGEST_TEXT ? own : comment;
  const message = `A text of ${text.length} characters was not read; it begins ${JSON.stringify(text.slice(0, 40))}.`;
  return { code: "text-too-long", message, place };
}

function rest(count: number): readonly PlacedDoubt[] {
  if (count <= MOST_DOUBTS) return [];
  return [{ code: "text-too-long", message: `${count - MOST_DOUBTS} more texts were too long to be read.` }];
}
