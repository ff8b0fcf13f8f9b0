import type { Content, Heat } from "../../content.js";
import { cell, chemistryCells, type Drawn, fields, header, heatCell, symbolsOf, table, text } from "../../draw.js";
import type { Cell, Part } from "../../paper.js";
import type { Random } from "../../random.js";
import { print } from "../../styles/style.js";
import type { Family } from "../family.js";

export const CHEMISTRY: readonly Family[] = [
  { name: "parts per million and bounds among the elements", draw: ppmAndBounds },
  { name: "limits between the results", draw: limitsBetween },
  { name: "sums and weights beside the elements", draw: sumsBeside },
  { name: "units in the cells", draw: unitsInCells },
  { name: "limits and two analyses down the side", draw: labelsDown },
  { name: "elements in two tables", draw: twoTables },
];

function ppmAndBounds(content: Content): Part[] {
  const { style, heats } = content;
  const elements = symbolsOf(content);
  const rows = heats.map((heat) => [
    heatCell(heat),
    ...chemistryCells(heat, style).map((one): Cell => {
      const truth = one.truths[0]!;
      const ppm = String(Math.round(Number(truth.value) * 10_000));
      if (truth.quantity === "N") return cell(ppm, { truths: [{ ...truth, value: ppm, unit: "ppm" }] });
      if (truth.quantity !== "S") return one;
      return cell(`<${print("0.005", style)}`, { truths: [{ ...truth, value: "0.005", bound: "<" }] });
    }),
  ]);
  const titles = elements.map((element) => (element === "N" ? "N ppm" : `${element} %`));
  return [header(content), text(style.words.chemistry), table([[style.words.heat, ...titles], ...rows])];
}

function limitsBetween(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const elements = symbolsOf(content);
  const limit = (value: string) => print(value, style);
  const isRange = (element: string) => element === "Cr" || element === "Ni";
  const rows = heats.flatMap((heat): Drawn[][] => [
    [words.min, ...elements.map((element) => (isRange(element) ? limit("8.00") : ""))],
    [words.max, ...elements.map((element) => limit(isRange(element) ? "20.00" : "2.000"))],
    [heatCell(heat), ...chemistryCells(heat, style)],
  ]);
  const unit = random.pick([" %", " [%]"]);
  return [header(content), table([[words.heat, ...elements.map((element) => `${element}${unit}`)], ...rows])];
}

function sumsBeside(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const sum = (heat: Heat) =>
    heat.chemistry
      .filter(([element]) => element === "Cr" || element === "Ni")
      .reduce((total, [, value]) => total + Number(value), 0)
      .toFixed(2);
  const rows = heats.map((heat) => [
    heat.plate,
    heatCell(heat),
    String(random.between(1, 9)),
    String(random.between(800, 9000)),
    ...chemistryCells(heat, style),
    print(sum(heat), style),
  ]);
  const titles = symbolsOf(content).map((element) => `${element} %`);
  return [header(content), table([[words.plate, words.heat, "pcs.", words.weight, ...titles, "Cr+Ni"], ...rows])];
}

function unitsInCells(content: Content): Part[] {
  const { style, heats } = content;
  const printed = (value: string) => `${print(value, style)} %`;
  const rows = heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style, {}, printed)]);
  return [text(style.words.chemistry), table([[style.words.heat, ...symbolsOf(content)], ...rows])];
}

function labelsDown(content: Content, random: Random): Part[] {
  const { style } = content;
  const { words } = style;
  const heat = content.heats[0]!;
  const elements = symbolsOf(content);
  const limits: Drawn[][] = [
    [words.min, ...elements.map((element) => (element === "Cr" ? print("17.5", style) : "-"))],
    [words.max, ...elements.map((element) => print(element === "Cr" ? "19.5" : "2.00", style))],
  ];
  const results: Drawn[][] = [
    [words.heatAnalysis, ...chemistryCells(heat, style, { analysis: "heat" })],
    [words.productAnalysis, ...chemistryCells(heat, style, { analysis: "product" })],
  ];
  const body = random.chance(0.5) ? [...limits, ...results] : [...results, ...limits];
  return [
    fields([words.heat, heatCell(heat)], [words.grade, "1.4307"]),
    text(`${words.chemistry} (%)`),
    table([["", ...elements], ...body]),
  ];
}

function twoTables(content: Content): Part[] {
  const { style, heats } = content;
  const elements = symbolsOf(content).map((element) => `${element} %`);
  const part = (from: number, to: number) =>
    table([
      [style.words.heat, ...elements.slice(from, to)],
      ...heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style).slice(from, to)]),
    ]);
  return [header(content), text(style.words.chemistry), part(0, 4), part(4, elements.length)];
}
