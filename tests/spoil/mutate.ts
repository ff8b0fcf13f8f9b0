import { findCells, findTitleRows, findValueRows, type Grid, isNumber, textAt, withTexts } from "./grid.js";
import { LABELS } from "./labels.js";

export interface Mutation {
  readonly name: string;
  /** undefined: the document offers nothing to do this to. */
  apply(grid: Grid, pick: Pick): Grid | undefined;
}

/** One of some, by the run's seed. */
export type Pick = <Item>(items: readonly Item[]) => Item | undefined;

const UNIT = /^(.*?)\s*\(?(%|MPa|N\/mm²|N\/mm2|ksi|psi|J|ft-lbf|ft·lbf|mm|HBW|°C|°F)\)?$/;

/** What goes wrong between a mill's database and the page: each done once, at a place that the seed chooses. */
export const MUTATIONS: readonly Mutation[] = [
  { name: "swap two units", apply: swapUnits },
  { name: "shift the values of a row by one column", apply: shiftRow },
  { name: "shift one column of values down by one row", apply: shiftColumn },
  { name: "drop a row of titles", apply: dropTitleRow },
  { name: "drop one title", apply: dropTitle },
  { name: "duplicate a row", apply: duplicateRow },
  { name: "delete a decimal separator", apply: deleteSeparator },
  { name: "move a row of limits", apply: moveLimits },
  { name: "change the language of a label", apply: translateLabel },
];

/**
 * After these the paper is a true document of other metal: nothing on it contradicts anything else. They are run, and what
 * they turn into a pass is counted, but no reader can know.
 */
export const INDISTINGUISHABLE: readonly (Mutation & { readonly because: string })[] = [
  {
    name: "swap two titles",
    because: "two elements with values that are usual for both (P and S, C and N) read as a cast with those values",
    apply: swapTitles,
  },
  {
    name: "swap two heat numbers in one table",
    because: "heats of one grade have like values, and a table does not say whose results it was meant to hold",
    apply: swapHeats,
  },
];

function swapUnits(grid: Grid, pick: Pick): Grid | undefined {
  const spots = findCells(grid, (text) => UNIT.test(text) && !isNumber(text));
  const first = pick(spots);
  const second = first && pick(spots.filter((spot) => unitOf(textAt(grid, spot)) !== unitOf(textAt(grid, first))));
  if (!first || !second) return undefined;
  const exchange = (text: string, unit: string) => text.replace(unitOf(text), unit);
  const [one, other] = [textAt(grid, first), textAt(grid, second)];
  return withTexts(grid, [
    [first, exchange(one, unitOf(other))],
    [second, exchange(other, unitOf(one))],
  ]);
}

function unitOf(text: string): string {
  return UNIT.exec(text)![2]!;
}

function shiftRow(grid: Grid, pick: Pick): Grid | undefined {
  const at = pick(findValueRows(grid));
  if (at === undefined) return undefined;
  const row = grid[at]!;
  const from = pick(row.flatMap((text, column) => (isNumber(text) ? [column] : [])))!;
  const shifted = pick([true, false])
    ? [...row.slice(0, from), "", ...row.slice(from)]
    : [...row.slice(0, from), ...row.slice(from + 1), ""];
  return grid.map((other, index) => (index === at ? shifted : other));
}

/** The whole column of one table: its first value is missing then, and its last stands in a row of its own. */
function shiftColumn(grid: Grid, pick: Pick): Grid | undefined {
  const start = pick(findTitleRows(grid));
  if (start === undefined) return undefined;
  const values = new Set(findValueRows(grid));
  const block: number[] = [];
  for (let row = start + 1; values.has(row); row++) block.push(row);
  const first = block[0]!;
  const column = pick(grid[first]!.flatMap((text, index) => (isNumber(text) ? [index] : [])));
  if (column === undefined) return undefined;
  const longer = [...grid.slice(0, first + block.length), [""], ...grid.slice(first + block.length)];
  return withTexts(longer, [
    [{ row: first, column }, ""],
    ...block.map((row) => [{ row: row + 1, column }, textAt(grid, { row, column })] as const),
  ]);
}

function dropTitleRow(grid: Grid, pick: Pick): Grid | undefined {
  const at = pick(findTitleRows(grid));
  return at === undefined ? undefined : grid.filter((_, row) => row !== at);
}

function dropTitle(grid: Grid, pick: Pick): Grid | undefined {
  const at = pick(findTitleRows(grid));
  const column = at === undefined ? undefined : pick(filledColumns(grid[at]!));
  return at === undefined || column === undefined ? undefined : withTexts(grid, [[{ row: at, column }, ""]]);
}

function filledColumns(row: readonly string[]): number[] {
  return row.flatMap((text, column) => (text === "" ? [] : [column]));
}

function duplicateRow(grid: Grid, pick: Pick): Grid | undefined {
  const at = pick(grid.flatMap((row, index) => (row.some((text) => text !== "") ? [index] : [])));
  return at === undefined ? undefined : [...grid.slice(0, at + 1), ...grid.slice(at)];
}

function deleteSeparator(grid: Grid, pick: Pick): Grid | undefined {
  const spot = pick(findCells(grid, (text) => isNumber(text) && /[.,]/.test(text)));
  return spot && withTexts(grid, [[spot, textAt(grid, spot).replace(/[.,]/, "")]]);
}

const LIMITS = /^(min|max|minimum|maximum|spec|limit)/i;

function moveLimits(grid: Grid, pick: Pick): Grid | undefined {
  const at = pick(grid.flatMap((row, index) => (LIMITS.test(row[0] ?? "") ? [index] : [])));
  const to = at === undefined ? undefined : pick(findValueRows(grid).filter((row) => row !== at));
  if (at === undefined || to === undefined) return undefined;
  const without = grid.filter((_, row) => row !== at);
  const place = to > at ? to : to + 1;
  return [...without.slice(0, place), grid[at]!, ...without.slice(place)];
}

function translateLabel(grid: Grid, pick: Pick): Grid | undefined {
  const words = (text: string) => LABELS.find((label) => label.includes(text));
  const spot = pick(findCells(grid, (text) => words(text) !== undefined));
  const text = spot && textAt(grid, spot);
  const other = text && pick(words(text)!.filter((word) => word !== text));
  return spot && other ? withTexts(grid, [[spot, other]]) : undefined;
}

function swapTitles(grid: Grid, pick: Pick): Grid | undefined {
  const at = pick(findTitleRows(grid));
  if (at === undefined) return undefined;
  const columns = filledColumns(grid[at]!).slice(1);
  const [one, other] = [pick(columns), pick(columns)];
  if (one === undefined || other === undefined || one === other) return undefined;
  return withTexts(grid, [
    [{ row: at, column: one }, grid[at]![other]!],
    [{ row: at, column: other }, grid[at]![one]!],
  ]);
}

function swapHeats(grid: Grid, pick: Pick): Grid | undefined {
  const rows = findValueRows(grid).filter((row) => !LIMITS.test(grid[row]![0]!));
  const one = pick(rows);
  const other = one === undefined ? undefined : pick(rows.filter((row) => Math.abs(row - one) === 1));
  if (one === undefined || other === undefined) return undefined;
  return withTexts(grid, [
    [{ row: one, column: 0 }, grid[other]![0]!],
    [{ row: other, column: 0 }, grid[one]![0]!],
  ]);
}
