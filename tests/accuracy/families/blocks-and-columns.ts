import type { Content, Heat } from "../content.js";
import {
  averageCell,
  cell,
  chemistryCells,
  type Drawn,
  energyCells,
  fields,
  heatCell,
  span,
  symbolsOf,
  table,
  tensileCells,
  tensileTitles,
  unsaid,
} from "../draw.js";
import type { Cell, Part } from "../paper.js";
import type { Random } from "../random.js";
import { print } from "../styles/style.js";
import type { Family } from "./family.js";

/** Heats in columns or in blocks, several values in one place. */
export const BLOCKS_AND_COLUMNS: readonly Family[] = [
  { name: "heats in columns", draw: heatsInColumns },
  { name: "everything in one wide table, two header rows", draw: oneWideTable },
  { name: "a block for each heat", draw: blockPerHeat },
  { name: "EN 10168 codes before the titles", draw: fieldCodes },
  { name: "minimum, maximum and actual under each element", draw: tripleColumns },
  { name: "heat and product analysis", draw: twoAnalyses },
  { name: "zones down, singles in one cell", draw: singlesInOneCell },
  { name: "pairs of element and value", draw: pairs },
];

function heatsInColumns(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const corner = random.pick([style.words.heat, style.words.element]);
  const across = (title: string, cellsOf: (heat: Heat) => readonly Cell[], index: number): Drawn[] => [
    title,
    ...heats.map((heat) => cellsOf(heat)[index]!),
  ];
  const chemistry = symbolsOf(content).map((element, index) =>
    across(`${element} %`, (heat) => chemistryCells(heat, style), index),
  );
  const tensile = tensileTitles(content).map((title, index) =>
    across(title, (heat) => tensileCells(heat, heat.tensile[0]!, style), index),
  );
  return [table([[corner, ...heats.map((heat) => heatCell(heat))], ...chemistry, ...tensile])];
}

function oneWideTable(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const elements = symbolsOf(content);
  const titles = tensileTitles(content);
  const head: Drawn[][] = [
    [
      words.heat,
      span(`${words.chemistry} %`, elements.length),
      span(words.tensile, titles.length),
      span("KV -196 °C [J]", 4),
    ],
    ["", ...elements, ...titles, "1", "2", "3", words.average],
  ];
  const rows = heats.map((heat) => {
    const set = heat.impact[0]!;
    return [
      heatCell(heat),
      ...chemistryCells(heat, style),
      ...tensileCells(heat, heat.tensile[0]!, style),
      ...energyCells(heat, set).map((one) => unsaid(one, "zone")),
      unsaid(averageCell(heat, set), "zone"),
    ];
  });
  return [table([...head, ...rows], { headRows: 2 })];
}

function blockPerHeat(content: Content): Part[] {
  const { style, heats } = content;
  return heats.flatMap((heat): Part[] => [
    fields([style.words.heat, heatCell(heat)]),
    table([symbolsOf(content).map((element) => `${element} %`), chemistryCells(heat, style)]),
    table([tensileTitles(content), tensileCells(heat, heat.tensile[0]!, style)]),
  ]);
}

function fieldCodes(content: Content): Part[] {
  const { style, heats } = content;
  const heatTitle = `B07 ${style.words.heat}`;
  const elements = symbolsOf(content).map((element, index) => `C${71 + index} ${element} %`);
  const tensile = tensileTitles(content).map((title, index) => `C${11 + index} ${title}`);
  return [
    table([[heatTitle, ...elements], ...heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style)])]),
    table([
      [heatTitle, ...tensile],
      ...heats.map((heat) => [heatCell(heat), ...tensileCells(heat, heat.tensile[0]!, style)]),
    ]),
  ];
}

function tripleColumns(content: Content): Part[] {
  const { style } = content;
  const { words } = style;
  const heats = content.heats.map((heat): Heat => ({ ...heat, chemistry: heat.chemistry.slice(0, 4) }));
  const elements = heats[0]!.chemistry;
  const head: Drawn[][] = [
    [words.heat, ...elements.map(([element]) => span(`${element} %`, 3))],
    ["", ...elements.flatMap(() => [words.min, words.max, words.actual])],
  ];
  const rows = heats.map((heat) => [
    heatCell(heat),
    ...chemistryCells(heat, style).flatMap((value): Drawn[] => ["", print("2.00", style), value]),
  ]);
  return [table([...head, ...rows], { headRows: 2 })];
}

function twoAnalyses(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const isRepeated = random.chance(0.5);
  const head = [words.heat, words.analysis, ...symbolsOf(content).map((element) => `${element} %`)];
  const rows = heats.flatMap((heat): Drawn[][] => [
    [heatCell(heat), words.heatAnalysis, ...chemistryCells(heat, style, { analysis: "heat" })],
    [isRepeated ? heatCell(heat) : "", words.productAnalysis, ...chemistryCells(heat, style, { analysis: "product" })],
  ]);
  return [table([head, ...rows])];
}

function singlesInOneCell(content: Content): Part[] {
  const { words } = content.style;
  const heat = content.heats[0]!;
  const rows = heat.impact.map((set) => [
    words.zones[set.zone],
    cell(set.energies.join(" / "), { truths: energyCells(heat, set).flatMap(({ truths }) => truths) }),
    averageCell(heat, set),
  ]);
  return [
    fields([words.heat, heatCell(heat)], [words.temperature, "-196 °C"]),
    table([[words.zone, "KV (J)", `${words.average} (J)`], ...rows]),
  ];
}

function pairs(content: Content): Part[] {
  const { style } = content;
  const heat = content.heats[0]!;
  const cells = chemistryCells(heat, style).map((value, index): Drawn[] => [`${heat.chemistry[index]![0]} %`, value]);
  const rows: Drawn[][] = [];
  for (let at = 0; at < cells.length; at += 3) rows.push(cells.slice(at, at + 3).flat());
  return [fields([style.words.heat, heatCell(heat)]), table(rows, { headRows: 0 })];
}
