import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import type { Cell, Table } from "../../core/recogniser/cells.js";

/** Text with a delimiter as cells, as a reader hands them over: empty ones left out, lines and columns from 1 as places. */
export function tableOf(text: string, delimiter: string): Table {
  const rows: string[][] = parse(text, { delimiter, relax_column_count: true, bom: true });
  const cells: Cell[] = [];
  rows.forEach((row, rowIndex) => {
    row.forEach((raw, column) => {
      const cellText = raw.trim();
      const place = { line: rowIndex + 1, column: column + 1 };
      if (cellText !== "") cells.push({ row: rowIndex, column, text: cellText, place, confidence: 1 });
    });
  });
  return { name: "record", cells };
}

export function dataFile(name: string): string {
  return readFileSync(new URL(`data/${name}`, import.meta.url), "utf8");
}
