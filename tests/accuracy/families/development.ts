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
  scaled,
  table,
  tensileCells,
  tensileTitles,
  tensileTruth,
} from "../tables.js";
import type { Family } from "./family.js";

/** Layouts that the recogniser is developed on. */
export const DEVELOPMENT: readonly Family[] = [
  { name: "heats in rows, elements across", draw: heatsInRows },
  { name: "elements down with limits", draw: elementsDown },
  { name: "units in a row of their own", draw: unitRow },
  { name: "multipliers over the elements", draw: multipliers },
  { name: "one value a row", draw: longForm },
  { name: "impact singles across", draw: singlesAcross },
  { name: "impact pieces in rows", draw: piecesInRows },
  { name: "limits above and below", draw: limitRows },
];

function header({ style: { words }, number, order }: Content): Part {
  const pairs = [
    [words.certificate, number],
    ["EN 10204", "3.1"],
    [words.order, order],
    [words.grade, "1.4307"],
  ] as const;
  return { kind: "fields", pairs };
}

function symbols(heats: readonly Heat[]): string[] {
  return heats[0]!.chemistry.map(([element]) => element);
}

function heatsInRows(content: Content, random: Random) {
  const { style, heats } = content;
  const inBrackets = random.pick([" %", " [%]", " (%)", ""]);
  const tensileRows = heats.flatMap((heat) =>
    heat.tensile.map((piece) => [heat.name, piece.name, ...tensileCells(piece, style)]),
  );
  const parts: Part[] = [
    header(content),
    { kind: "text", text: `${style.words.chemistry}${inBrackets === "" ? " %" : ""}` },
    table([
      [style.words.heat, ...symbols(heats).map((element) => `${element}${inBrackets}`)],
      ...heats.map((heat) => [heat.name, ...chemistryCells(heat, style)]),
    ]),
    { kind: "text", text: style.words.tensile },
    table([[style.words.heat, style.words.specimen, ...tensileTitles(content)], ...tensileRows]),
  ];
  return { parts, truth: heats.flatMap((heat) => [...chemistryTruth(heat), ...tensileTruth(heat, style)]) };
}

function elementsDown(content: Content) {
  const { style, heats } = content;
  const { words } = style;
  const heat = heats[0]!;
  const limit = (value: string) => print((Number(value) * 1.4 + 0.01).toFixed(3), style);
  const rows = heat.chemistry.map(([element, value]) => [`${element} %`, limit(value), print(value, style)]);
  const parts: Part[] = [
    header(content),
    { kind: "fields", pairs: [[words.heat, heat.name]] },
    table([[words.element, words.max, words.actual], ...rows]),
  ];
  return { parts, truth: chemistryTruth(heat) };
}

function unitRow(content: Content) {
  const { style, heats } = content;
  const elements = symbols(heats);
  const stress = heats[0]!.tensile[0]!.strengths.map(() => style.stress);
  const parts: Part[] = [
    header(content),
    table([
      [style.words.heat, ...elements, ...tensileTitles(content, false)],
      ["", ...elements.map(() => "%"), ...stress, "%"],
      ...heats.map((heat) => [heat.name, ...chemistryCells(heat, style), ...tensileCells(heat.tensile[0]!, style)]),
    ]),
  ];
  return { parts, truth: heats.flatMap((heat) => [...chemistryTruth(heat), ...firstTensileTruth(heat, style)]) };
}

function multipliers(content: Content, random: Random) {
  const { style, heats } = content;
  const powerOf = new Map(heats[0]!.chemistry.map(([element, value]) => [element, value.split(".")[1]!.length]));
  const times = (element: string) => `x${10 ** powerOf.get(element)!}`;
  const elements = symbols(heats);
  const rows = heats.map((heat) => [
    heat.name,
    ...heat.chemistry.map(([element, value]) => scaled(value, powerOf.get(element)!)),
  ]);
  const { heat } = style.words;
  const head = random.chance(0.5)
    ? [[heat, ...elements.map((element) => `${element} ${times(element)}`)]]
    : [
        [heat, ...elements],
        ["", ...elements.map(times)],
      ];
  const title: Part = { kind: "text", text: `${style.words.chemistry} %` };
  return {
    parts: [header(content), title, table([...head, ...rows])],
    truth: heats.flatMap((one) => chemistryTruth(one)),
  };
}

function longForm(content: Content) {
  const { style, heats } = content;
  const rows = heats.flatMap((heat) => {
    const { strengths, elongation } = heat.tensile[0]!;
    const values = tensileCells(heat.tensile[0]!, style);
    return [
      ...heat.chemistry.map(([element, value]) => [heat.name, element, print(value, style), "%"]),
      ...strengths.map(([quantity], index) => [heat.name, quantity, values[index]!, style.stress]),
      [heat.name, elongation[0], values.at(-1)!, "%"],
    ];
  });
  const truth = heats.flatMap((heat) => [...chemistryTruth(heat), ...firstTensileTruth(heat, style)]);
  return { parts: [table([["Heat", "Property", "Value", "Unit"], ...rows])], truth };
}

function singlesAcross(content: Content, random: Random) {
  const { heats } = content;
  const { words } = content.style;
  const rows = heats.flatMap((heat) =>
    heat.impact.map((set) => [heat.name, words.zones[set.zone], "-196", ...set.energies.map(String), averageOf(set)]),
  );
  const fixed = [words.heat, words.zone, `${words.temperature} °C`];
  const head: DrawnCell[][] = random.chance(0.5)
    ? [[...fixed, "KV 1 [J]", "KV 2 [J]", "KV 3 [J]", `${words.average} [J]`]]
    : [
        [...fixed, ["KV [J]", 4]],
        ["", "", "", "1", "2", "3", words.average],
      ];
  const parts: Part[] = [header(content), { kind: "text", text: words.impact }, table([...head, ...rows])];
  return { parts, truth: heats.flatMap((heat) => impactTruth(heat, {})) };
}

function piecesInRows(content: Content) {
  const { style, heats } = content;
  const { words } = style;
  const rows = heats.flatMap((heat) =>
    heat.impact.flatMap((set) =>
      set.energies.map((energy, index) => [
        heat.name,
        `${set.zone[0]!.toUpperCase()}${index + 1}`,
        words.zones[set.zone],
        "-196 °C",
        String(energy),
        print(set.expansions[index]!, style),
      ]),
    ),
  );
  const head = [words.heat, words.specimen, words.zone, words.temperature, "KV2 (J)", `${words.lateral} (mm)`];
  const truth = heats.flatMap((heat) => impactTruth(heat, { withAverage: false, withExpansion: true }));
  return { parts: [{ kind: "text" as const, text: words.impact }, table([head, ...rows])], truth };
}

function limitRows(content: Content, random: Random) {
  const { style, heats } = content;
  const { words } = style;
  const elements = symbols(heats);
  const hasMin = (element: string) => element === "Cr" || element === "Ni";
  const min = [
    words.min,
    ...elements.map((element) => (hasMin(element) ? print("8.0", style) : random.pick(["", "-"]))),
  ];
  const max = [words.max, ...elements.map((element) => print(hasMin(element) ? "20.0" : "2.00", style))];
  const rows = heats.map((heat) => [heat.name, ...chemistryCells(heat, style)]);
  const head = [words.heat, ...elements.map((element) => `${element} %`)];
  const body = random.chance(0.5) ? [min, max, ...rows] : [...rows, min, max];
  return { parts: [header(content), table([head, ...body])], truth: heats.flatMap((heat) => chemistryTruth(heat)) };
}
