import { bandRows } from "./band-rows.js";
import { type Grid, parts } from "./find-grids.js";
import { SNAP } from "./join-rules.js";
import { isTypewriter, relativeGap, relativeWidth, type Segment, toSegment } from "./segments.js";
import type { Rule, Word } from "./word.js";
import { isNumeric } from "./word.js";

/** Spaces inside a phrase are narrower than this, in heights of the line; in type of one width, than so many characters. */
const PHRASE_GAP = 0.45;
const TYPEWRITER_PHRASE_GAP = 1.1;
/** A title stands in the middle of its columns to within so many points. */
const CENTRED = 2;
/** More combinations than any table of titles has. */
const SEARCH_LIMIT = 20_000;

/** Columns of the grid, both included. */
interface Span {
  readonly from: number;
  readonly to: number;
}

/**
 * Programs that draw the lines of columns from top to bottom draw them through the titles of groups, too: "Chemical composition"
 * with a line through its middle. Where titles are written across the lines and stand in the middle of several columns each, the
 * lines are taken away behind them, as a careful printer would have drawn it.
 */
export function clearTitles(grid: Grid, words: readonly Word[]): Grid {
  let { uprights } = grid;
  const rowEnds: number[] = [];
  const bands = grid.ys.slice(0, -1).map((top, index) => {
    const bottom = grid.ys[index + 1]!;
    return { top, bottom, lines: bandRows(words.filter((word) => isWithin(word, top, bottom))).map(toPhrases) };
  });
  bands.forEach(({ top, bottom, lines }, index) => {
    const inner = grid.xs.slice(1, -1).filter((x) => parts(grid.uprights, x, top, bottom));
    if (inner.length < 2) return;
    const xs = [grid.xs[0]!, ...inner, grid.xs.at(-1)!];
    let upper = top;
    for (const [at, line] of lines.entries()) {
      const next = lines[at + 1];
      const spans = spansOf(line, next ? lines.slice(at + 1) : (bands[index + 1]?.lines ?? []), xs);
      if (!spans) break;
      const lower = next ? (bottomOf(line) + topOf(next)) / 2 : bottom;
      for (const { from, to } of spans) {
        for (const x of xs.slice(from + 1, to + 1)) uprights = cutOut(uprights, x, upper, lower);
      }
      if (next) rowEnds.push(lower);
      upper = lower;
    }
  });
  return uprights === grid.uprights ? grid : { ...grid, uprights, rowEnds };
}

/** Words that only a space parts. */
function toPhrases(line: readonly Word[]): Segment[] {
  const phrases: Word[][] = [];
  for (const word of line) {
    const before = phrases.at(-1)?.at(-1);
    if (before && isSamePhrase(before, word)) phrases.at(-1)!.push(word);
    else phrases.push([word]);
  }
  return phrases.map(toSegment);
}

function isSamePhrase(before: Word, word: Word): boolean {
  if (isNumeric(before.text) && isNumeric(word.text)) return false;
  const typewriter = (TYPEWRITER_PHRASE_GAP * (relativeWidth(before) + relativeWidth(word))) / 2;
  return relativeGap(before, word) <= (isTypewriter([before, word]) ? Math.max(PHRASE_GAP, typewriter) : PHRASE_GAP);
}

/** The columns that each title of a line is written over; nothing where the line is no line of titles over several columns. */
function spansOf(line: readonly Segment[], below: readonly Segment[][], xs: readonly number[]): Span[] | undefined {
  if (line.some(({ words }) => words.every(({ text }) => isNumeric(text)))) return undefined;
  const spans = widest(line.map((title) => candidates(title, xs)));
  if (!spans || spans.every(({ from, to }) => from === to)) return undefined;
  // Every column of a group has a title of its own.
  const titled = new Set(below.flat().map((title) => columnOf(title, xs)));
  if (spans.some(({ from, to }) => from < to && !columnsOf({ from, to }).every((column) => titled.has(column))))
    return undefined;
  if (line.some((title) => xs.slice(1, -1).some((x) => crosses(title, x)))) return spans;
  // No title touches a line. But where single titles stand on top, one that does not has a group's title over it.
  const isSetOnTop = spans.some(({ from, to }) => from === to && !titled.has(from));
  const covered = new Set(spans.flatMap(columnsOf));
  return isSetOnTop && [...titled].every((column) => covered.has(column)) ? spans : undefined;
}

function columnsOf({ from, to }: Span): number[] {
  return Array.from({ length: to - from + 1 }, (_, offset) => from + offset);
}

function crosses({ left, right }: Segment, x: number): boolean {
  return left < x - 0.5 && right > x + 0.5;
}

function columnOf({ left, right }: Segment, xs: readonly number[]): number {
  return xs.findIndex((x, index) => index > 0 && (left + right) / 2 < x) - 1;
}

/** Runs of columns that hold the title and have their middle where it has its own; its own column is always one. */
function candidates(title: Segment, xs: readonly number[]): Span[] {
  const centre = (title.left + title.right) / 2;
  const spans: Span[] = [];
  for (let from = 0; from < xs.length - 1 && xs[from]! <= title.left + SNAP; from++) {
    for (let to = from; to < xs.length - 1; to++) {
      if (xs[to + 1]! < title.right - SNAP) continue;
      const isCentred = Math.abs((xs[from]! + xs[to + 1]!) / 2 - centre) <= CENTRED;
      if (from === to || isCentred) spans.push({ from, to });
    }
  }
  return spans;
}

/** One span for each title, none over another, that together leave out the fewest columns; nothing where two ways do equally well. */
function widest(choices: readonly (readonly Span[])[]): Span[] | undefined {
  let most = 0;
  let found: Span[][] = [];
  let steps = 0;
  const search = (at: number, from: number, chosen: readonly Span[]): void => {
    if (++steps > SEARCH_LIMIT) return;
    if (at === choices.length) {
      const covered = chosen.reduce((sum, span) => sum + span.to - span.from + 1, 0);
      if (covered > most) [most, found] = [covered, []];
      if (covered === most) found.push([...chosen]);
      return;
    }
    for (const span of choices[at]!) if (span.from >= from) search(at + 1, span.to + 1, [...chosen, span]);
  };
  search(0, 0, []);
  return steps <= SEARCH_LIMIT && found.length === 1 ? found[0] : undefined;
}

function cutOut(rules: readonly Rule[], x: number, top: number, bottom: number): Rule[] {
  return rules.flatMap((rule) => {
    if (Math.abs(rule.at - x) > SNAP || rule.to <= top || rule.from >= bottom) return [rule];
    const pieces = [
      { ...rule, to: Math.min(rule.to, top) },
      { ...rule, from: Math.max(rule.from, bottom) },
    ];
    return pieces.filter(({ from, to }) => to > from);
  });
}

function isWithin({ top, bottom }: Word, from: number, to: number): boolean {
  const middle = (top + bottom) / 2;
  return middle >= from && middle < to;
}

function topOf(line: readonly Segment[]): number {
  return Math.min(...line.map(({ top }) => top));
}

function bottomOf(line: readonly Segment[]): number {
  return Math.max(...line.map(({ bottom }) => bottom));
}
