import type { GridCell } from "./grid.js";
import type { TitleReader } from "./title-reader.js";

/** "Heat | Product | Heat", with or without "Element" before it, over columns of values: which analysis each is, and no titles of heats and products. */
export function saysAnalyses(cells: readonly GridCell[], titles: TitleReader): boolean {
  const said = cells.map(({ cell }) => titles.read(cell.text));
  const isOne = ({ field, analysis, rest }: (typeof said)[number]) =>
    rest === "" && (analysis !== undefined || field === "heat" || field === "form" || field === "property");
  const isSaid = said.some(({ analysis }) => analysis) || said.filter(({ field }) => field === "heat").length > 1;
  return isSaid && said.every(isOne);
}
