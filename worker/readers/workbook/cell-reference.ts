export const ROW_LIMIT = 1_048_576;
export const COLUMN_LIMIT = 16_384;

/** Row and column from 0: (6, 1) is "B7". */
export function cellReference(row: number, column: number): string {
  let letters = "";
  for (let rest = column; rest >= 0; rest = Math.floor(rest / 26) - 1) {
    letters = String.fromCharCode(65 + (rest % 26)) + letters;
  }
  return `${letters}${row + 1}`;
}

/** Undefined for anything that is not a cell of a sheet. */
export function parseCellReference(reference: string): { row: number; column: number } | undefined {
  const match = /^\$?([A-Z]{1,3})\$?(\d{1,7})$/.exec(reference);
  if (!match) return undefined;
  let column = 0;
  for (const letter of match[1]!) column = column * 26 + letter.charCodeAt(0) - 64;
  const row = Number(match[2]);
  if (row < 1 || row > ROW_LIMIT || column > COLUMN_LIMIT) return undefined;
  return { row: row - 1, column: column - 1 };
}
