import type { Content } from "../content.js";
import {
  averageCell,
  chemistryCells,
  type Drawn,
  energyCells,
  expansionCells,
  fields,
  header,
  heatCell,
  scaled,
  span,
  symbolsOf,
  table,
  tensileCells,
  tensileTitles,
  text,
  unsaid,
} from "../draw.js";
import type { Part } from "../paper.js";
import type { Random } from "../random.js";
import { print } from "../styles/style.js";
import type { Family } from "./family.js";

/** A result, a piece or a heat in each row. */
export const ROWS: readonly Family[] = [
  { name: "heats in rows, elements across", draw: heatsInRows },
  { name: "elements down with limits", draw: elementsDown },
  { name: "units in a row of their own", draw: unitRow },
  { name: "multipliers over the elements", draw: multipliers },
  { name: "one value a row", draw: longForm },
  { name: "impact singles across", draw: singlesAcross },
  { name: "impact pieces in rows", draw: piecesInRows },
  { name: "limits above and below", draw: limitRows },
];

function heatsInRows(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const inBrackets = random.pick([" %", " [%]", " (%)", ""]);
  const tensileRows = heats.flatMap((heat) =>
    heat.tensile.map((piece) => [heatCell(heat), piece.name, ...tensileCells(heat, piece, style)]),
  );
  return [
    header(content),
    text(`${style.words.chemistry}${inBrackets === "" ? " %" : ""}`),
    table([
      [style.words.heat, ...symbolsOf(content).map((element) => `${element}${inBrackets}`)],
      ...heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style)]),
    ]),
    text(style.words.tensile),
    table([[style.words.heat, style.words.specimen, ...tensileTitles(content)], ...tensileRows]),
  ];
}

function elementsDown(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const heat = heats[0]!;
  const limit = (value: string) => print((Number(value) * 1.4 + 0.01).toFixed(3), style);
  const values = chemistryCells(heat, style);
  const rows = heat.chemistry.map(([element, value], index) => [`${element} %`, limit(value), values[index]!]);
  return [
    header(content),
    fields([words.heat, heatCell(heat)]),
    table([[words.element, words.max, words.actual], ...rows]),
  ];
}

function unitRow(content: Content): Part[] {
  const { style, heats } = content;
  const elements = symbolsOf(content);
  const stress = heats[0]!.tensile[0]!.strengths.map(() => style.stress);
  const rows = [
    [style.words.heat, ...elements, ...tensileTitles(content, false)],
    ["", ...elements.map(() => "%"), ...stress, "%"],
    ...heats.map((heat) => [
      heatCell(heat),
      ...chemistryCells(heat, style),
      ...tensileCells(heat, heat.tensile[0]!, style),
    ]),
  ];
  return [header(content), table(rows, { headRows: 2 })];
}

function multipliers(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const powerOf = new Map(heats[0]!.chemistry.map(([element, value]) => [element, value.split(".")[1]!.length]));
  const times = (element: string) => `x${10 ** powerOf.get(element)!}`;
  const elements = symbolsOf(content);
  const rows = heats.map((heat) => [
    heatCell(heat),
    ...chemistryCells(heat, style, {}, (value, element) => scaled(value, powerOf.get(element)!)),
  ]);
  const { heat } = style.words;
  const head = random.chance(0.5)
    ? [[heat, ...elements.map((element) => `${element} ${times(element)}`)]]
    : [
        [heat, ...elements],
        ["", ...elements.map(times)],
      ];
  return [header(content), text(`${style.words.chemistry} %`), table([...head, ...rows], { headRows: head.length })];
}

function longForm(content: Content): Part[] {
  const { style, heats } = content;
  const rows = heats.flatMap((heat): Drawn[][] => {
    const piece = heat.tensile[0]!;
    const values = tensileCells(heat, piece, style);
    const elements = chemistryCells(heat, style);
    return [
      ...heat.chemistry.map(([element], index) => [heatCell(heat), element, elements[index]!, "%"]),
      ...piece.strengths.map(([quantity], index) => [
        heatCell(heat),
        quantity,
        unsaid(values[index]!, "set"),
        style.stress,
      ]),
      [heatCell(heat), piece.elongation[0], unsaid(values.at(-1)!, "set"), "%"],
    ];
  });
  // Nothing says there which values came from one piece.
  return [table([["Heat", "Property", "Value", "Unit"], ...rows])];
}

function singlesAcross(content: Content, random: Random): Part[] {
  const { heats } = content;
  const { words } = content.style;
  const rows = heats.flatMap((heat) =>
    heat.impact.map((set) => [
      heatCell(heat),
      words.zones[set.zone],
      "-196",
      ...energyCells(heat, set),
      averageCell(heat, set),
    ]),
  );
  const fixed = [words.heat, words.zone, `${words.temperature} °C`];
  const head: Drawn[][] = random.chance(0.5)
    ? [[...fixed, "KV 1 [J]", "KV 2 [J]", "KV 3 [J]", `${words.average} [J]`]]
    : [
        [...fixed, span("KV [J]", 4)],
        ["", "", "", "1", "2", "3", words.average],
      ];
  return [header(content), text(words.impact), table([...head, ...rows], { headRows: head.length })];
}

function piecesInRows(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const rows = heats.flatMap((heat) =>
    heat.impact.flatMap((set) => {
      const energies = energyCells(heat, set, { striker: 2 });
      const expansions = expansionCells(heat, set, style);
      return set.energies.map((_, index) => [
        heatCell(heat),
        `${set.zone[0]!.toUpperCase()}${index + 1}`,
        words.zones[set.zone],
        "-196 °C",
        energies[index]!,
        expansions[index]!,
      ]);
    }),
  );
  const head = [words.heat, words.specimen, words.zone, words.temperature, "KV2 (J)", `${words.lateral} (mm)`];
  return [text(words.impact), table([head, ...rows])];
}

function limitRows(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const elements = symbolsOf(content);
  const hasMin = (element: string) => element === "Cr" || element === "Ni";
  const min = [
    words.min,
    ...elements.map((element) => (hasMin(element) ? print("8.0", style) : random.pick(["", "-"]))),
  ];
  const max = [words.max, ...elements.map((element) => print(hasMin(element) ? "20.0" : "2.00", style))];
  const rows = heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style)]);
  const head = [words.heat, ...elements.map((element) => `${element} %`)];
  const body: Drawn[][] = random.chance(0.5) ? [min, max, ...rows] : [...rows, min, max];
  return [header(content), table([head, ...body])];
}
