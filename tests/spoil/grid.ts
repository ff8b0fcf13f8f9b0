/** A document as rows of texts, which is what a spreadsheet comes to. */
export type Grid = readonly (readonly string[])[];

export interface Spot {
  readonly row: number;
  readonly column: number;
}

export function writeCsv(grid: Grid): string {
  const width = Math.max(...grid.map((row) => row.length));
  const line = (row: readonly string[]) =>
    Array.from({ length: width }, (_, column) => quoted(row[column] ?? "")).join(";");
  return `${grid.map(line).join("\n")}\n`;
}

function quoted(text: string): string {
  return /[;"\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Cells whose text is wanted, row by row. */
export function findCells(grid: Grid, isWanted: (text: string) => boolean): Spot[] {
  return grid.flatMap((row, at) => row.flatMap((text, column) => (isWanted(text) ? [{ row: at, column }] : [])));
}

export function textAt(grid: Grid, { row, column }: Spot): string {
  return grid[row]?.[column] ?? "";
}

/** The grid with other texts at some places. */
export function withTexts(grid: Grid, changes: readonly (readonly [Spot, string])[]): Grid {
  const rows = grid.map((row) => [...row]);
  for (const [{ row, column }, text] of changes) {
    while (rows[row]!.length <= column) rows[row]!.push("");
    rows[row]![column] = text;
  }
  return rows;
}

export const isNumber = (text: string) => /^[<>]?\s*\d+([.,]\d+)?$/.test(text.trim());

/** Rows of values: a name in front, numbers behind. */
export function findValueRows(grid: Grid): number[] {
  return grid.flatMap((row, at) => (row.filter(isNumber).length >= 2 ? [at] : []));
}

/** Rows of titles: the row before each run of rows of values, and the row before that where it is one of words too. */
export function findTitleRows(grid: Grid): number[] {
  const values = new Set(findValueRows(grid));
  return [...values].flatMap((at) =>
    !values.has(at - 1) && at > 0 && grid[at - 1]!.filter((text) => text !== "").length > 1 ? [at - 1] : [],
  );
}
