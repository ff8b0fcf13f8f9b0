import type { Cell, ReadDocument, Table } from "../../../core/recogniser/cells.js";

/**
 * Makes a table from a drawing: cells divided by "|", one row a line. "<" joins a cell to its left neighbour, "^" to the one above.
 * `~text~` is struck through, `(?text)` hidden.
 */
export function drawTable(drawing: string, name = "Sheet1"): Table {
  const rows = drawing
    .split("\n")
    .filter((line, index, lines) => line.trim() !== "" || (index > 0 && index < lines.length - 1))
    .map((line) => line.split("|").map((text) => text.trim()));
  const cells: (Cell & { rowSpan: number; columnSpan: number })[] = [];
  const at = (row: number, column: number) =>
    cells.find(
      (cell) =>
        cell.row <= row &&
        row < cell.row + cell.rowSpan &&
        cell.column <= column &&
        column < cell.column + cell.columnSpan,
    );
  rows.forEach((texts, row) => {
    texts.forEach((text, column) => {
      if (text === "") return;
      if (text === "<") at(row, column - 1)!.columnSpan += 1;
      else if (text === "^") at(row - 1, column)!.rowSpan += 1;
      else {
        const struck = /^~(.*)~$/.exec(text)?.[1];
        const hidden = /^\(\?(.*)\)$/.exec(text)?.[1];
        cells.push({
          row,
          column,
          rowSpan: 1,
          columnSpan: 1,
          text: struck ?? hidden ?? text,
          place: { line: row + 1, column: column + 1 },
          confidence: 1,
          ...(struck !== undefined && { struck: true }),
          ...(hidden !== undefined && { hidden: true }),
        });
      }
    });
  });
  return { name, cells };
}

export function drawDocument(...drawings: readonly string[]): ReadDocument {
  return {
    reader: "csv",
    tables: drawings.map((drawing, index) => drawTable(drawing, `Table ${index + 1}`)),
    doubts: [],
  };
}
