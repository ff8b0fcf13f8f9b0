import { parse } from "csv-parse/sync";

export type Delimiter = "," | ";" | "\t" | "|";

export interface Dialect {
  readonly delimiter: Delimiter;
  readonly decimalSign: "." | ",";
  /** Higher is better; only to be compared with another dialect of the same sample. */
  readonly score: number;
}

const DELIMITERS: readonly Delimiter[] = [";", "\t", "|", ","];
const DECIMAL_SIGNS = [".", ","] as const;
const SAMPLE_ROWS = 200;

/**
 * Splits a sample with every delimiter and scores what comes out: rows of one length and cells that look like something
 * (a number in that decimal sign, a word, a date). Best first; none that would leave the sample in one column.
 */
export function rankDialects(sample: string): Dialect[] {
  return DELIMITERS.filter((delimiter) => sample.includes(delimiter))
    .flatMap((delimiter) => {
      const rows = splitRows(sample, delimiter, SAMPLE_ROWS).filter((row) => row.some((field) => field.trim() !== ""));
      const regularity = delimiter === "," ? rateRegularity(rows) : rateMarkedRegularity(rows);
      return DECIMAL_SIGNS.map((decimalSign) => ({
        delimiter,
        decimalSign,
        score: regularity * rateCells(rows, decimalSign),
      }));
    })
    .filter(({ score }) => score > 0)
    .sort((left, right) => right.score - left.score);
}

/** Every line becomes a row, empty ones too, so that rows can be counted as lines. */
export function splitRows(text: string, delimiter: Delimiter, rows: number): string[][] {
  return parse(text, { delimiter, to: rows, record_delimiter: "\n", relax_column_count: true, relax_quotes: true });
}

/** How much of the sample stands in neighbouring rows of one length, rows of a single field counting nothing. */
function rateRegularity(rows: readonly string[][]): number {
  const lengths = rows.map((row) => row.length);
  const regular = lengths.filter((length, index) => {
    return length > 1 && (length === lengths[index - 1] || length === lengths[index + 1] || lengths.length === 1);
  });
  return rows.length === 0 ? 0 : regular.length / rows.length;
}

/**
 * Semicolons, tabs and bars are rare in sentences: headings and names of zones between the rows, which have none, count little
 * against them. They only must not be most of the text.
 */
function rateMarkedRegularity(rows: readonly string[][]): number {
  const parted = rows.filter((row) => row.length > 1);
  const share = Math.min(1, (3 * parted.length) / Math.max(1, rows.length));
  return share * rateRegularity(parted);
}

const NUMBER = {
  ".": /^[<>≤≥~]?\s?[+-]?(\d{1,3}(,\d{3})+|\d+)?(\.\d+)?([eE][+-]?\d+)?\s?%?$/,
  ",": /^[<>≤≥~]?\s?[+-]?(\d{1,3}(\.\d{3})+|\d+)?(,\d+)?([eE][+-]?\d+)?\s?%?$/,
} as const;
const WORDY = /^[\p{L}(#][^;|\t]*$/u;
const DATE = /^(\d{4}-\d{1,2}-\d{1,2}|\d{1,2}[./]\d{1,2}[./]\d{2,4})([ T]\d{1,2}:\d{2}(:\d{2})?)?$/;

/** Mean over the cells that are not empty. A word with a comma in it is less of a cell than one without. */
function rateCells(rows: readonly string[][], decimalSign: "." | ","): number {
  let sum = 0;
  let filled = 0;
  for (const row of rows) {
    for (const field of row) {
      const text = field.trim();
      if (text === "") continue;
      filled++;
      if (NUMBER[decimalSign].test(text) || DATE.test(text)) sum += 1;
      else if (WORDY.test(text)) sum += text.includes(",") ? 0.5 : 0.8;
      else sum += 0.2;
    }
  }
  return filled === 0 ? 0 : sum / filled;
}
