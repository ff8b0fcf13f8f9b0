import { findGrids, type Grid } from "./find-grids.js";
import { buildLatticeTable } from "./lattice-table.js";
import { buildStreamTables } from "./stream-tables.js";
import type { TableDraft } from "./table-draft.js";
import type { Rule, Word } from "./word.js";

/** Everything written on one page as tables in reading order: ruled ones by their lines, the rest by where words stand. */
export function buildPageTables(words: readonly Word[], rules: readonly Rule[]): TableDraft[] {
  let free = [...words];
  const tables: TableDraft[] = [];
  const spans: { top: number; bottom: number }[] = [];
  // Small grids first: a frame round the page must not swallow the tables inside it.
  for (const grid of findGrids(rules).sort((left, right) => areaOf(left) - areaOf(right))) {
    const inside = free.filter((word) => isInside(word, grid));
    if (inside.length === 0) continue;
    const { table, left } = buildLatticeTable(grid, inside);
    if (!table) continue;
    tables.push(table);
    spans.push({ top: grid.ys[0]!, bottom: grid.ys.at(-1)! });
    const taken = new Set(inside);
    for (const word of left) taken.delete(word);
    free = free.filter((word) => !taken.has(word));
  }
  for (const zone of cutZones(free, spans)) tables.push(...buildStreamTables(zone));
  return tables.sort((above, below) => above.top - below.top || above.left - below.left);
}

function areaOf({ xs, ys }: Grid): number {
  return (xs.at(-1)! - xs[0]!) * (ys.at(-1)! - ys[0]!);
}

function isInside(word: Word, { xs, ys }: Grid): boolean {
  const x = (word.left + word.right) / 2;
  const y = (word.top + word.bottom) / 2;
  return x >= xs[0]! && x <= xs.at(-1)! && y >= ys[0]! && y <= ys.at(-1)!;
}

/** Words above and below a ruled table do not make one table with each other. */
function cutZones(words: readonly Word[], spans: readonly { top: number; bottom: number }[]): Word[][] {
  const zones = new Map<number, Word[]>();
  for (const word of words) {
    const y = (word.top + word.bottom) / 2;
    const zone = spans.filter(({ top, bottom }) => (top + bottom) / 2 < y).length;
    zones.set(zone, [...(zones.get(zone) ?? []), word]);
  }
  return [...zones.values()];
}
