import type { Cell, Paper } from "../paper.js";

export interface GridSpot {
  readonly sheet: string;
  /** From 1. */
  readonly row: number;
  readonly column: number;
  readonly cell: Cell;
  /** Numbers the tables of the paper; lines and fields have numbers of their own. */
  readonly table: number;
}

/** Papers as people type them into sheets: one part under the other, tables beside each other with a column between. */
export function layOnGrid({ parts }: Paper, firstSheet: string): GridSpot[] {
  const spots: GridSpot[] = [];
  let sheet = firstSheet;
  let row = 1;
  let table = 0;
  for (const part of parts) {
    if (part.kind === "sheet") {
      sheet = part.name;
      row = 1;
    } else if (part.kind === "text") {
      spots.push({ sheet, row, column: 1, cell: part.cell, table: table++ });
      row += 1;
    } else if (part.kind === "page") {
      row += 1;
    } else if (part.kind === "fields") {
      for (const pair of part.pairs) {
        pair.forEach((cell, index) => {
          spots.push({ sheet, row, column: index + 1, cell, table });
        });
        row += 1;
      }
      table += 1;
      row += 1;
    } else {
      let left = 1;
      for (const { cells, width } of part.tables) {
        for (const placed of cells) {
          spots.push({ sheet, row: row + placed.row, column: left + placed.column, cell: placed.cell, table });
        }
        table += 1;
        left += width + 1;
      }
      row += Math.max(...part.tables.map(({ height }) => height)) + 1;
    }
  }
  return spots;
}
