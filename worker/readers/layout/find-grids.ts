import { joinRules, SNAP } from "./join-rules.js";
import type { Rule } from "./word.js";

/** Ruling lines that hang together. `xs` and `ys` are the places of all lines; not every line runs all through. */
export interface Grid {
  readonly xs: readonly number[];
  readonly ys: readonly number[];
  readonly levels: readonly Rule[];
  readonly uprights: readonly Rule[];
  /** Where a row of titles ends without a level line. */
  readonly rowEnds?: readonly number[];
}

/** More lines than any form has: a drawing. */
const RULE_LIMIT = 4_000;
/** Share of a slot's side that a line must cover to part it from its neighbour. */
const COVER = 0.6;

/** Groups of lines that cross or touch, each cut into the tables that are stacked in it. */
export function findGrids(rules: readonly Rule[]): Grid[] {
  const levels = joinRules(rules, "level");
  const uprights = joinRules(rules, "upright");
  if (levels.length + uprights.length > RULE_LIMIT) return [];
  return findGroups(levels, uprights)
    .map((group) => toGrid(group.levels, group.uprights))
    .filter(({ xs, ys }) => xs.length >= 2 && ys.length >= 2)
    .flatMap(cutStacked);
}

/** A line parts two slots of the band between `from` and `to`. */
export function parts(lines: readonly Rule[], at: number, from: number, to: number): boolean {
  const covered = lines
    .filter((line) => Math.abs(line.at - at) <= SNAP)
    .reduce((sum, line) => sum + Math.max(0, Math.min(line.to, to) - Math.max(line.from, from)), 0);
  return covered >= COVER * (to - from);
}

function findGroups(levels: readonly Rule[], uprights: readonly Rule[]): { levels: Rule[]; uprights: Rule[] }[] {
  const groupOfUpright = uprights.map((_, index) => index);
  const find = (index: number): number => {
    let root = index;
    while (groupOfUpright[root] !== root) root = groupOfUpright[root]!;
    groupOfUpright[index] = root;
    return root;
  };
  const touching = levels.map((level) => uprights.flatMap((upright, index) => (touch(level, upright) ? [index] : [])));
  for (const [first, ...others] of touching) {
    for (const other of others) groupOfUpright[find(other)] = find(first!);
  }
  const groups = new Map<number, { levels: Rule[]; uprights: Rule[] }>();
  const groupAt = (root: number) => {
    const group = groups.get(root) ?? { levels: [], uprights: [] };
    groups.set(root, group);
    return group;
  };
  uprights.forEach((upright, index) => {
    groupAt(find(index)).uprights.push(upright);
  });
  levels.forEach((level, index) => {
    const [first] = touching[index]!;
    if (first !== undefined) groupAt(find(first)).levels.push(level);
  });
  return [...groups.values()];
}

function touch(level: Rule, upright: Rule): boolean {
  return (
    upright.at >= level.from - SNAP &&
    upright.at <= level.to + SNAP &&
    level.at >= upright.from - SNAP &&
    level.at <= upright.to + SNAP
  );
}

/** Tables often leave their outer sides open: where the lines reach further than the last crossing, the side is there. */
function toGrid(levels: readonly Rule[], uprights: readonly Rule[]): Grid {
  const xs = placesOf(uprights, levels);
  const ys = placesOf(levels, uprights);
  return { xs, ys, levels, uprights };
}

function placesOf(lines: readonly Rule[], across: readonly Rule[]): number[] {
  const places: number[] = [];
  for (const { at } of [...lines].sort((left, right) => left.at - right.at)) {
    if (places.length === 0 || at - places.at(-1)! > SNAP) places.push(at);
  }
  const OPEN_SIDE = 8;
  const first = Math.min(...across.map(({ from }) => from));
  const last = Math.max(...across.map(({ to }) => to));
  if (places.length > 0 && first < places[0]! - OPEN_SIDE) places.unshift(first);
  if (places.length > 0 && last > places.at(-1)! + OPEN_SIDE) places.push(last);
  return places;
}

/**
 * Chemistry above tensile values, drawn as one block: where a line runs through the whole width and the uprights above and
 * below it are not the same with more or fewer of them, a new table begins. A row without uprights goes with what follows.
 */
function cutStacked(grid: Grid): Grid[] {
  const { xs, ys, levels, uprights } = grid;
  const bands = ys.slice(0, -1).map((top, index) => {
    const inner = xs.slice(1, -1).filter((x) => parts(uprights, x, top, ys[index + 1]!));
    return { inner, isOpenedByLine: parts(levels, top, xs[0]!, xs.at(-1)!) };
  });
  const starts = [0];
  let known = new Set<number>();
  let lastRuled = -1;
  bands.forEach(({ inner }, index) => {
    if (inner.length === 0) return;
    const start = bands.findIndex((band, at) => at > lastRuled && at <= index && band.isOpenedByLine);
    if (lastRuled >= 0 && start > 0 && !isNested(known, inner)) {
      starts.push(start);
      known = new Set();
    }
    for (const x of inner) known.add(x);
    lastRuled = index;
  });
  if (starts.length === 1) return [grid];
  return starts.map((start, index) => cutOut(grid, ys[start]!, ys[starts[index + 1] ?? ys.length - 1]!));
}

function isNested(known: ReadonlySet<number>, inner: readonly number[]): boolean {
  const shared = inner.filter((x) => known.has(x)).length;
  return shared === inner.length || shared === known.size;
}

function cutOut({ levels, uprights }: Grid, top: number, bottom: number): Grid {
  const within = (from: number, to: number) => Math.min(to, bottom) - Math.max(from, top);
  return toGrid(
    levels.filter(({ at }) => at >= top - SNAP && at <= bottom + SNAP),
    uprights
      .filter(({ from, to }) => within(from, to) > SNAP)
      .map((rule) => ({ ...rule, from: Math.max(rule.from, top), to: Math.min(rule.to, bottom) })),
  );
}
