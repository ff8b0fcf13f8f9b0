import type { Place } from "../../../core/certificate/evidence.js";
import type { Cell, Paper } from "../paper.js";
import type { Random } from "../random.js";

/** Draws a paper as one kind of document. The random source settles what the kind leaves open: delimiters, ruling, fonts. */
export type Renderer = (paper: Paper, random: Random) => Promise<Rendered>;

export interface Rendered {
  readonly name: string;
  readonly bytes: Buffer;
  readonly spots: readonly Spot[];
  /** Where the cells stand if a text file is read as plain text: by letters of a line, and not by fields. */
  readonly typed?: readonly Spot[];
  /** From a place as readers state it to the plane that the spots lie in, where that is another. */
  readonly toPlane?: (area: Area) => Area;
}

/** Where a cell came to stand. */
export interface Spot {
  readonly cell: Cell;
  /** Cells with the same number belong to one table. */
  readonly table: number;
  readonly area: Area;
}

/** A rectangle on a page or sheet: points on pages, columns and rows on sheets, columns and lines in text. */
export interface Area {
  readonly page: string | number;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export function areaOf(place: Place): Area | undefined {
  if ("page" in place) {
    const [left, top, width, height] = place.box;
    return { page: place.page, left, top, right: left + width, bottom: top + height };
  }
  if ("line" in place) return slot("", place.line, place.column);
  if (!("sheet" in place)) return undefined;
  const [, letters = "", digits] = /^([A-Z]+)(\d+)$/.exec(place.cell)!;
  const column = [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0);
  return slot(place.sheet, Number(digits), column);
}

/** Rows, lines and columns count from 1, as places do. */
export function slot(page: string, row: number, column: number, rows = 1, columns = 1): Area {
  return { page, left: column, top: row, right: column + columns, bottom: row + rows };
}
