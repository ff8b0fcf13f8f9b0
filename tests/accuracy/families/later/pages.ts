import type { Content, Heat } from "../../content.js";
import {
  averageCell,
  cell,
  chemistryCells,
  type Drawn,
  energyCells,
  fields,
  header,
  heatCell,
  span,
  symbolsOf,
  table,
  tensileCells,
  tensileTitles,
  text,
} from "../../draw.js";
import type { Part } from "../../paper.js";
import type { Family } from "../family.js";

export const LATER_PAGES: readonly Family[] = [
  { name: "a block for each heat, everything in it", heats: [2, 4], draw: blocks },
  {
    name: "two rows of titles on every page, printed sideways",
    heats: [45, 60],
    draw: continued,
    printing: () => ({ sideways: true }),
  },
  { name: "condensed type, everything in one table", draw: condensed, printing: () => ({ condensed: true }) },
  {
    name: "the whole certificate of one heat, printed sideways",
    heats: [1, 1],
    draw: (content) => block(content, content.heats[0]!),
    printing: () => ({ sideways: true }),
  },
];

function blocks(content: Content): Part[] {
  return [header(content), ...content.heats.flatMap((heat) => block(content, heat))];
}

function block(content: Content, heat: Heat): Part[] {
  const { style } = content;
  const { words } = style;
  const one = { ...content, heats: [heat] };
  const set = heat.impact[0]!;
  return [
    text(cell(`${words.heat}: ${heat.name}`, { heat: heat.name })),
    table([
      ["%", ...symbolsOf(one)],
      [words.actual, ...chemistryCells(heat, style)],
    ]),
    table([
      [words.specimen, ...tensileTitles(one)],
      ...heat.tensile.map((piece) => [piece.name, ...tensileCells(heat, piece, style)]),
    ]),
    table([
      [words.zone, `${words.temperature} °C`, "KV 1 J", "KV 2 J", "KV 3 J", `${words.average} J`],
      ...heat.impact
        .filter((other) => other === set)
        .map((other) => [words.zones[other.zone], "-196", ...energyCells(heat, other), averageCell(heat, other)]),
    ]),
  ];
}

function continued(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const elements = symbolsOf(content).slice(0, 4);
  const titles = tensileTitles(content, false);
  const units = [...titles.slice(1).map(() => style.stress), "%"];
  const head: Drawn[][] = [
    [words.plate, words.heat, ...elements, ...titles],
    ["", "", ...elements.map(() => "%"), ...units],
  ];
  const rows = heats.map((heat) => [
    heat.plate,
    heatCell(heat),
    ...chemistryCells(heat, style).slice(0, 4),
    ...tensileCells(heat, heat.tensile[0]!, style),
  ]);
  return [header(content), table([...head, ...rows], { headRows: 2, repeatsHead: true })];
}

function condensed(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const elements = symbolsOf(content);
  const titles = tensileTitles(content);
  const head: Drawn[][] = [
    [cell(words.heat, { rows: 2 }), span(`${words.chemistry} %`, elements.length), span(words.tensile, titles.length)],
    [...elements, ...titles],
  ];
  const rows = heats.map((heat) => [
    heatCell(heat),
    ...chemistryCells(heat, style),
    ...tensileCells(heat, heat.tensile[0]!, style),
  ]);
  return [fields([words.certificate, content.number]), table([...head, ...rows], { headRows: 2 })];
}
