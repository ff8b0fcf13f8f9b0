import type { Content, Heat } from "../../content.js";
import {
  averageCell,
  beside,
  chemistryCells,
  type Drawn,
  energyCells,
  fields,
  header,
  heatCell,
  symbolsOf,
  table,
  tensileCells,
  tensileTitles,
  text,
} from "../../draw.js";
import type { Part } from "../../paper.js";
import { print } from "../../styles/style.js";
import type { Family } from "../family.js";

export const PAGES: readonly Family[] = [
  { name: "long table, titles on every page", heats: [55, 70], draw: (content) => longTable(content, true) },
  { name: "long table, titles on the first page only", heats: [55, 70], draw: (content) => longTable(content, false) },
  { name: "chemistry beside tensile", draw: chemistryBesideTensile },
  { name: "two heats in columns beside each other", heats: [2, 2], draw: twoHeatsBeside },
  { name: "EN 10168 codes, everything on one form", draw: codedForm },
];

function longTable(content: Content, repeatsHead: boolean): Part[] {
  const { style, heats } = content;
  const rows = heats.map((heat) => [
    heatCell(heat),
    heat.plate,
    ...chemistryCells(heat, style).slice(0, 3),
    ...tensileCells(heat, heat.tensile[0]!, style),
  ]);
  const elements = symbolsOf(content).slice(0, 3);
  const head = [
    style.words.heat,
    style.words.plate,
    ...elements.map((element) => `${element} %`),
    ...tensileTitles(content),
  ];
  return [header(content), table([head, ...rows], { repeatsHead })];
}

function chemistryBesideTensile(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const chemistry = [
    [
      words.heat,
      ...symbolsOf(content)
        .slice(0, 5)
        .map((element) => `${element} %`),
    ],
    ...heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style).slice(0, 5)]),
  ];
  const tensile = [
    [words.heat, ...tensileTitles(content)],
    ...heats.map((heat) => [heatCell(heat), ...tensileCells(heat, heat.tensile[0]!, style)]),
  ];
  return [header(content), beside(table(chemistry), table(tensile))];
}

function twoHeatsBeside(content: Content): Part[] {
  const { style } = content;
  const block = (heat: Heat) => {
    const values = chemistryCells(heat, style);
    return table(
      [
        [style.words.heat, heatCell(heat)],
        ...heat.chemistry.map(([element], index): Drawn[] => [`${element} %`, values[index]!]),
      ],
      { headRows: 0 },
    );
  };
  return [header(content), text(style.words.chemistry), beside(...content.heats.map(block))];
}

function codedForm(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const set = heats[0]!.impact[0]!;
  const coded = (code: string, title: string) => `${code} ${title}`;
  const said = { orientation: "transverse" };
  const impact = heats.map((heat) => {
    const one = heat.impact[0] ?? set;
    return [
      heatCell(heat),
      words.directions.transverse,
      "-196",
      words.zones[one.zone],
      ...energyCells(heat, one, said),
      averageCell(heat, one, said),
    ];
  });
  return [
    fields(
      [coded("A02", "EN 10204"), "3.1"],
      [coded("A03", words.certificate), content.number],
      [coded("A07", words.order), content.order],
      [coded("B02", words.grade), "1.4307"],
      [coded("B09", words.thickness), print("12.0", style)],
    ),
    text(`C70-C92 ${words.chemistry}`),
    table([
      [coded("B07", words.heat), ...symbolsOf(content).map((element, index) => `C${71 + index} ${element} %`)],
      ...heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style)]),
    ]),
    text(`C10-C29 ${words.tensile}`),
    table([
      [coded("B07", words.heat), ...tensileTitles(content).map((title, index) => coded(`C${11 + index}`, title))],
      ...heats.map((heat) => [heatCell(heat), ...tensileCells(heat, heat.tensile[0]!, style)]),
    ]),
    text(`C40-C49 ${words.impact}`),
    table([
      [
        coded("B07", words.heat),
        coded("C02", words.direction),
        coded("C03", `${words.temperature} °C`),
        words.zone,
        ...[1, 2, 3].map((piece) => `C42 KV ${piece} J`),
        `C43 ${words.average} J`,
      ],
      ...impact,
    ]),
  ];
}
