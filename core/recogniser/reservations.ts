import type { Statement } from "../certificate/certificate.js";
import type { Cell, Table } from "./cells.js";
import { type Context, statementOf } from "./context.js";
import { tidy } from "./plain-text.js";
import type { Line } from "./read-fields.js";
import { CONDITIONAL, NOT_CONFORMING, NOT_FINAL, NOT_MEASURED, OF_OTHER_METAL } from "./vocabulary/reservations.js";

const LONGEST_SENTENCE = 160;
const LONGEST_HEADING = 40;

/**
 * Lines by which a paper says that it does not count, that its values were not measured, or that the metal does not conform. The last
 * only outside the tables of results: in them it is of its row.
 */
export function findReservations(context: Context, tables: readonly Table[], lines: readonly Line[]): Statement[] {
  const ofPaper = tables.flatMap(({ cells }) => cells.filter(doesNotCount).map((cell) => statementOf(context, cell)));
  const ofMetal = lines.flatMap(({ field, heading }) => {
    const said = field?.statement ?? (heading && statementOf(context, heading.cell));
    return said && isAdverse(said.printed) ? [said] : [];
  });
  return [...ofPaper, ...ofMetal];
}

function doesNotCount(cell: Cell): boolean {
  if (cell.number !== undefined || cell.hidden || cell.struck || cell.text.length > LONGEST_SENTENCE) return false;
  // Most cells are numbers, and tidying a text costs more than to look for a letter.
  if (!/\p{L}/u.test(cell.text)) return false;
  const text = tidy(cell.text);
  if (CONDITIONAL.test(text)) return false;
  if (NOT_MEASURED.test(text)) return true;
  return text.length <= LONGEST_HEADING && text.split(/ - |[:;,!]+ ?/).some((part) => NOT_FINAL.test(part));
}

/** "Results of earlier deliveries", "for information only" over a table. */
export function isOfOtherMetal(text: string): boolean {
  return text.length <= LONGEST_SENTENCE && OF_OTHER_METAL.test(tidy(text));
}

/** "failed", "out of spec", "nicht i. O." beside a row of results. */
export function isAdverse(text: string): boolean {
  if (text.length > LONGEST_SENTENCE) return false;
  const said = tidy(text);
  return NOT_CONFORMING.test(said) && !CONDITIONAL.test(said);
}
