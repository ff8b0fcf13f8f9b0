import type { Cell } from "./cells.js";
import { tidy } from "./plain-text.js";
import { readTitle } from "./read-title.js";
import type { Title } from "./title.js";

export type CellKind = "quantity" | "field" | "detail" | "text";

/** Reads titles and remembers them: one document repeats the same words many times. */
export interface TitleReader {
  read(text: string): Title;
  kindOf(cell: Cell): CellKind;
}

export function createTitleReader(): TitleReader {
  const known = new Map<string, Title>();
  const read = (text: string) => {
    let title = known.get(text);
    if (!title) {
      title = readTitle(text);
      known.set(text, title);
    }
    return title;
  };
  return { read, kindOf: (cell) => kindOfTitle(read(cell.text)) };
}

function kindOfTitle(title: Title): CellKind {
  if (title.rest !== "") return "text";
  if (title.quantity) return "quantity";
  if (title.field) return "field";
  return Object.keys(title).length > 1 ? "detail" : "text";
}

/** A cell that is a value and no title: a number, with or without bound and unit. */
export function isNumeric(cell: Cell): boolean {
  return (
    cell.number !== undefined ||
    /^[<>≤≥=~]{0,2}\s?[+\-−–]?[.,]?\d[\d.,\s]*(?:\s?[%°]?\s?\p{L}{0,3})?$/u.test(tidy(cell.text))
  );
}
