import type { Cell, Table } from "./cells.js";
import { SUPERSCRIPTS, tidy } from "./plain-text.js";
import { HARMLESS_NOTES } from "./vocabulary/footnotes.js";

/** What the notes at the foot of a paper say, by their marks: "*", "**", "†", "1". */
export type Footnotes = ReadonlyMap<string, readonly string[]>;

/** Confidence of what carries a mark that may make another thing of it. */
export const MARKED = 0.5;

/** Behind a figure. Raised figures, because "mm²" is a unit and "10⁻³" a power; "1)" only where a space keeps it from the value. */
const MARK_BEHIND = new RegExp(
  `(?<=\\d(?:\\s?[%"]|\\s?[\\p{L}/²]{1,6})?)(?:\\s?([${SUPERSCRIPTS}]{1,2}|\\*{1,4}|[†‡§])\\)?|\\s(\\d{1,2})\\))\\s*$`,
  "u",
);
const MARK_BEFORE = new RegExp(
  `^(?:([${SUPERSCRIPTS}]{1,2}|\\*{1,4}|[†‡§])\\)?|(\\d{1,2})(?:\\)|(?=\\s\\p{L})))\\s*[:=–-]?\\s*(.*)$`,
  "su",
);

/** Parts a printed value from the mark behind it: "0.021*", "0.021¹)", "0.021 1)". The mark is "1" however it was printed. */
export function splitMark(text: string): { readonly value: string; readonly mark?: string } {
  const match = MARK_BEHIND.exec(text);
  if (!match || isPowerOrUnit(text, match)) return { value: text };
  return { value: text.slice(0, match.index).trimEnd(), mark: plainMark(match[1] ?? match[2]!) };
}

/** "N/mm²", "J/cm²", "10²": there the raised figure is no mark. */
function isPowerOrUnit(text: string, { index, 1: mark = "" }: RegExpExecArray): boolean {
  return SUPERSCRIPTS.includes(mark[0] ?? "*") && /(?:m|(?<![\d.,])10)\s?$/i.test(text.slice(0, index));
}

/** As `splitMark`, of a title. A raised figure needs its bracket there: "J/cm²", "Rp ¹)". */
export function splitTitleMark(text: string): { readonly title: string; readonly mark?: string } {
  const match = /\s?(?:([¹²³⁴⁵⁶⁷⁸⁹])\)|(\*{1,4})\)?|([†‡§]+)\)?)\s*$/.exec(text);
  if (!match) return { title: text };
  return { title: text.slice(0, match.index), mark: plainMark(match[1] ?? match[2] ?? match[3]!) };
}

function plainMark(mark: string): string {
  return [...mark].map((sign) => (SUPERSCRIPTS.includes(sign) ? `${SUPERSCRIPTS.indexOf(sign)}` : sign)).join("");
}

/** Every cell, or pair of cells, that begins with a mark and goes on in words. */
export function findFootnotes(tables: readonly Table[]): Footnotes {
  const notes = new Map<string, string[]>();
  for (const { cells } of tables) {
    for (const [at, cell] of cells.entries()) {
      const [, sign, number, beside = ""] = MARK_BEFORE.exec(cell.text) ?? [];
      const mark = sign ?? number;
      const text = beside || textBeside(cells, at);
      if (mark && /\p{L}{2}/u.test(text)) notes.set(plainMark(mark), [...(notes.get(plainMark(mark)) ?? []), text]);
    }
  }
  return notes;
}

function textBeside(cells: readonly Cell[], at: number): string {
  const next = cells[at + 1];
  return next && next.row === cells[at]!.row ? next.text : "";
}

/** Of a value that carries the mark: 'marked * ("product analysis")'. */
export function describeMark(footnotes: Footnotes, mark: string): string {
  const said = footnotes.get(mark);
  return `marked ${mark}${said ? ` (${JSON.stringify(said.join("; "))})` : ", and no note was found that says why"}`;
}

/**
 * Whether a note names a method or a standard of analysis and nothing else. Any other may say that the value is of another heat, another
 * analysis, another place, and only a person can tell.
 */
export function isHarmless(note: string): boolean {
  const left = HARMLESS_NOTES.reduce((text, phrase) => text.replaceAll(phrase, " "), tidy(note).toLowerCase());
  return !/[\p{L}\d]/u.test(left);
}
