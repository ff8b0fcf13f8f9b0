import type { Cell } from "./cells.js";
import { doubt, type TableContext } from "./context.js";
import { type Grid, type GridCell, rowCells } from "./grid.js";
import type { Line } from "./read-fields.js";
import { countPairs } from "./split-pairs.js";
import { isNumeric } from "./title-reader.js";

/** A row with this many numbers that nobody read looks like results. */
const ROW_OF_NUMBERS = 3;
const REPORTED_ROWS = 5;

/** "Tensile strength 618 MPa (N41827)": a sentence with a result in it. */
const RESULT_IN_WORDS =
  /\d\s?(?:MPa|N\/mm[²2]|ksi|kgf?\/mm[²2]|J(?:\/cm[²2])?|ft[·.\- ]?lbf?|HBW?|HV\s?\d*|HR[BC]W?)(?![\p{L}\d])/u;
/** What was asked for, or the machine: "min. 27 J", "300 J pendulum". */
const LIMIT_IN_WORDS =
  /(?<!\p{L})(?:max|min|at least|at most|required|requirement|not less|not more|pendulum|hammer|mindest|anforderung|pendel|mini|minimum|maximum|exig|richies|requis|requer|mouton|pendolo|péndulo)|[≥≤<>]/iu;

/** Rows of numbers that belong to no table and no label are said, so that no layout is passed over in silence. */
export function reportUnreadNumbers(
  context: TableContext,
  grid: Grid,
  isInBlock: (cell: GridCell) => boolean,
  lines: readonly Line[],
): void {
  const read = new Set(
    lines.flatMap(({ field }) => (field ? [field.statement.evidence] : [])).map((place) => JSON.stringify(place)),
  );
  for (const { heading } of lines) {
    if (!heading) continue;
    const isSentence = RESULT_IN_WORDS.test(heading.cell.text) && !LIMIT_IN_WORDS.test(heading.cell.text);
    if (!isSentence && countPairs(heading.cell, context.titles) < 2) continue;
    const shown = heading.cell.text.slice(0, 60);
    doubt(
      context,
      "numbers-unread",
      `A line with values (${JSON.stringify(shown)}) holds more than titles and their values; it was not read.`,
      heading.cell.place,
    );
  }
  let rows = 0;
  for (const row of grid.rowNumbers) {
    const numbers = rowCells(grid, row).filter(
      (cell) => (isNumeric(cell.cell) || isSeries(cell.cell)) && !isInBlock(cell) && !isRead(context, cell, read),
    );
    const isAsked = rowCells(grid, row).some(({ cell }) => LIMIT_IN_WORDS.test(cell.text));
    const isOfTests = !isAsked && numbers.some(({ cell }) => RESULT_IN_WORDS.test(cell.text));
    if (numbers.length < ROW_OF_NUMBERS && !isOfTests) continue;
    rows += 1;
    if (rows > REPORTED_ROWS) continue;
    const shown = numbers
      .slice(0, 4)
      .map((cell) => cell.cell.text)
      .join(", ");
    doubt(
      context,
      "numbers-unread",
      `A row of numbers (${shown}${numbers.length > 4 ? " …" : ""}) stands under no titles that are known; it was not read.`,
      numbers[0]!.cell.place,
    );
  }
  if (rows > REPORTED_ROWS)
    doubt(context, "numbers-unread", `${rows - REPORTED_ROWS} more rows of numbers were not read.`);
}

/** "60/62/64 J": several results in one cell. */
export function isSeries({ text }: Cell): boolean {
  return /^[<>≤≥~]?\d/.test(text) && RESULT_IN_WORDS.test(text);
}

function isRead(context: TableContext, { cell }: GridCell, read: ReadonlySet<string>): boolean {
  return read.has(JSON.stringify({ document: context.documentIndex, ...cell.place }));
}
