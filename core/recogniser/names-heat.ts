import type { GridCell } from "./grid.js";
import type { TitleReader } from "./title-reader.js";

/** "Heat No.: H4472" in one cell: what follows is of that heat. */
export function namesHeat({ cell }: GridCell, titles: TitleReader): boolean {
  const label = /^(.*?)\s*:/.exec(cell.text)?.[1];
  return label !== undefined && titles.read(label).field === "heat" && titles.read(label).rest === "";
}
