import type { Block } from "./block.js";
import type { Cell } from "./cells.js";
import { type Grid, type GridCell, rowCells } from "./grid.js";
import type { TitleReader } from "./title-reader.js";

/**
 * Tables that stand side by side in the same rows, each with a column of heats ("Heat | C | Si | | Heat | °C | KV") or each a list under
 * a heat of its own ("Element | max | actual | | Element | max | actual"). Read as one, the temperature of the right one would be said
 * of the left one, and the heats of the right one would go unseen.
 */
export function splitBeside(block: Block, titles: TitleReader): Block[] {
  const head = block.headerRows.flatMap((row) => rowCells(block.grid, row));
  const startsOf = (field: "heat" | "property") => {
    const columns = head.filter(({ cell }) => isLabel(cell, field, titles)).map(({ column }) => column);
    return [...new Set(columns)].sort((left, right) => left - right);
  };
  const isMeasured = (from: number, to: number) =>
    head.some(({ column, cell }) => column >= from && column < to && titles.kindOf(cell) === "quantity");
  const heats = startsOf("heat");
  const cuts = heats.slice(1).filter((start, index) => {
    return isMeasured(heats[index]!, start) && isMeasured(start, heats[index + 2] ?? Number.MAX_SAFE_INTEGER);
  });
  const edges = cuts.length > 0 ? cuts : startsOf("property").slice(1);
  if (edges.length === 0) return [block];
  const bounds = [Number.MIN_SAFE_INTEGER, ...edges, Number.MAX_SAFE_INTEGER];
  return bounds.slice(0, -1).map((from, index) => partOf(block, from, bounds[index + 1]!, titles));
}

function isLabel({ text }: Cell, wanted: "heat" | "property", titles: TitleReader): boolean {
  const { field, rest } = titles.read(text);
  return field === wanted && rest === "";
}

function partOf(block: Block, from: number, to: number, titles: TitleReader): Block {
  const within = (row: number) => rowCells(block.grid, row).filter(({ column }) => column >= from && column < to);
  const rows = new Map<number, readonly GridCell[]>();
  for (const row of [...block.headerRows, ...block.dataRows]) {
    const cells = within(row);
    if (cells.length > 0) rows.set(row, cells);
  }
  const grid: Grid = { rowNumbers: [...rows.keys()].sort((left, right) => left - right), rows };
  const isKept = (row: number) => rows.has(row);
  const [label, name] = within(block.headerRows[0]! - 1);
  const heat = label && name && isLabel(label.cell, "heat", titles) ? name.cell : undefined;
  const { labelColumn, ...rest } = block;
  const columns = [...rows.values()].flat();
  return {
    ...rest,
    grid,
    headerRows: block.headerRows.filter(isKept),
    dataRows: block.dataRows.filter(isKept),
    ...(labelColumn !== undefined && labelColumn >= from && labelColumn < to && { labelColumn }),
    ...(heat && { heat }),
    region: {
      ...block.region,
      left: Math.min(...columns.map(({ column }) => column)),
      right: Math.max(...columns.map(({ column, columnSpan }) => column + columnSpan - 1)),
    },
  };
}
