import type { Content, Heat } from "../content.js";
import type { DrawnCell, Part } from "../paper.js";
import type { Random } from "../random.js";
import { print } from "../style.js";
import {
  averageOf,
  chemistryCells,
  chemistryTruth,
  firstTensileTruth,
  impactTruth,
  table,
  tensileCells,
  tensileTitles,
} from "../tables.js";
import type { Family } from "./family.js";

/** Layouts that are only scored: the recogniser was not developed on them. */
export const HELD_OUT: readonly Family[] = [
  { name: "heats in columns", draw: heatsInColumns },
  { name: "everything in one wide table, two header rows", draw: oneWideTable },
  { name: "a block for each heat", draw: blockPerHeat },
  { name: "EN 10168 codes before the titles", draw: fieldCodes },
  { name: "minimum, maximum and actual under each element", draw: tripleColumns },
  { name: "heat and product analysis", draw: twoAnalyses },
  { name: "zones down, singles in one cell", draw: singlesInOneCell },
  { name: "pairs of element and value", draw: pairs },
];

function chemistryAndTensile({ heats, style }: Content) {
  return heats.flatMap((heat) => [...chemistryTruth(heat), ...firstTensileTruth(heat, style)]);
}

function heatsInColumns(content: Content, random: Random) {
  const { style, heats } = content;
  const corner = random.pick([style.words.heat, style.words.element]);
  const elements = heats[0]!.chemistry.map(([element], index) => [
    `${element} %`,
    ...heats.map((heat) => chemistryCells(heat, style)[index]!),
  ]);
  const tensile = tensileTitles(content).map((title, index) => [
    title,
    ...heats.map((heat) => tensileCells(heat.tensile[0]!, style)[index]!),
  ]);
  const parts = [table([[corner, ...heats.map((heat) => heat.name)], ...elements, ...tensile])];
  return { parts, truth: chemistryAndTensile(content) };
}

function oneWideTable(content: Content) {
  const { style, heats } = content;
  const { words } = style;
  const elements = heats[0]!.chemistry.map(([element]) => element);
  const titles = tensileTitles(content);
  const head: DrawnCell[][] = [
    [words.heat, [`${words.chemistry} %`, elements.length], [words.tensile, titles.length], ["KV -196 °C [J]", 4]],
    ["", ...elements, ...titles, "1", "2", "3", words.average],
  ];
  const rows = heats.map((heat) => [
    heat.name,
    ...chemistryCells(heat, style),
    ...tensileCells(heat.tensile[0]!, style),
    ...heat.impact[0]!.energies.map(String),
    averageOf(heat.impact[0]!),
  ]);
  const impact = heats.flatMap((heat) =>
    impactTruth({ ...heat, impact: heat.impact.slice(0, 1) }, { withZone: false }),
  );
  return { parts: [table([...head, ...rows])], truth: [...chemistryAndTensile(content), ...impact] };
}

function blockPerHeat(content: Content) {
  const { style, heats } = content;
  const parts = heats.flatMap((heat): Part[] => [
    { kind: "fields", pairs: [[style.words.heat, heat.name]] },
    table([heat.chemistry.map(([element]) => `${element} %`), chemistryCells(heat, style)]),
    table([tensileTitles(content), tensileCells(heat.tensile[0]!, style)]),
  ]);
  return { parts, truth: chemistryAndTensile(content) };
}

function fieldCodes(content: Content) {
  const { style, heats } = content;
  const heatTitle = `B07 ${style.words.heat}`;
  const elements = heats[0]!.chemistry.map(([element], index) => `C${71 + index} ${element} %`);
  const tensile = tensileTitles(content).map((title, index) => `C${11 + index} ${title}`);
  const parts = [
    table([[heatTitle, ...elements], ...heats.map((heat) => [heat.name, ...chemistryCells(heat, style)])]),
    table([[heatTitle, ...tensile], ...heats.map((heat) => [heat.name, ...tensileCells(heat.tensile[0]!, style)])]),
  ];
  return { parts, truth: chemistryAndTensile(content) };
}

function tripleColumns(content: Content) {
  const { style } = content;
  const { words } = style;
  const heats = content.heats.map((heat): Heat => ({ ...heat, chemistry: heat.chemistry.slice(0, 4) }));
  const elements = heats[0]!.chemistry;
  const head: DrawnCell[][] = [
    [words.heat, ...elements.map(([element]): DrawnCell => [`${element} %`, 3])],
    ["", ...elements.flatMap(() => [words.min, words.max, words.actual])],
  ];
  const rows = heats.map((heat) => [
    heat.name,
    ...chemistryCells(heat, style).flatMap((value) => ["", print("2.00", style), value]),
  ]);
  return { parts: [table([...head, ...rows])], truth: heats.flatMap((heat) => chemistryTruth(heat)) };
}

function twoAnalyses(content: Content, random: Random) {
  const { style, heats } = content;
  const { words } = style;
  const isRepeated = random.chance(0.5);
  const head = [words.heat, words.analysis, ...heats[0]!.chemistry.map(([element]) => `${element} %`)];
  const rows = heats.flatMap((heat) => [
    [heat.name, words.heatAnalysis, ...chemistryCells(heat, style)],
    [isRepeated ? heat.name : "", words.productAnalysis, ...chemistryCells(heat, style)],
  ]);
  const truth = heats.flatMap((heat) => [...chemistryTruth(heat, "heat"), ...chemistryTruth(heat, "product")]);
  return { parts: [table([head, ...rows])], truth };
}

function singlesInOneCell(content: Content) {
  const { words } = content.style;
  const heat = content.heats[0]!;
  const pairsAbove = [[words.heat, heat.name] as const, [words.temperature, "-196 °C"] as const];
  const rows = heat.impact.map((set) => [words.zones[set.zone], set.energies.join(" / "), averageOf(set)]);
  const parts: Part[] = [
    { kind: "fields", pairs: pairsAbove },
    table([[words.zone, "KV (J)", `${words.average} (J)`], ...rows]),
  ];
  return { parts, truth: impactTruth(heat, {}) };
}

function pairs(content: Content) {
  const { style } = content;
  const heat = content.heats[0]!;
  const cells = heat.chemistry.map(([element, value]) => [`${element} %`, print(value, style)]);
  const rows: string[][] = [];
  for (let at = 0; at < cells.length; at += 3) rows.push(cells.slice(at, at + 3).flat());
  const parts: Part[] = [{ kind: "fields", pairs: [[style.words.heat, heat.name]] }, table(rows)];
  return { parts, truth: chemistryTruth(heat) };
}
