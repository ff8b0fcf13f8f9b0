import type { Content, Heat } from "../../content.js";
import {
  beside,
  cell,
  chemistryCells,
  type Drawn,
  fields,
  header,
  heatCell,
  span,
  symbolsOf,
  table,
  text,
} from "../../draw.js";
import type { Cell, Part } from "../../paper.js";
import type { Random } from "../../random.js";
import { print, type Style } from "../../styles/style.js";
import type { Family } from "../family.js";

export const PRACTICE_CHEMISTRY: readonly Family[] = [
  { name: "elements in two stacked bands", draw: stackedBands },
  { name: "a block for each heat, blocks side by side, limits in each", heats: [2, 3], draw: blocksBeside },
  { name: "limits between the heats, for each item its own", heats: [2, 3], draw: limitsBetween },
  { name: "analyses told apart by letters that a legend explains", draw: lettersWithLegend },
  { name: "heats as column groups, ladle and product below", heats: [1, 2], draw: heatGroups },
  { name: "limit behind the value in the same cell", draw: limitBehind },
  { name: "bounds, traces and approximate contents", heats: [2, 3], draw: qualified },
  { name: "the other elements on the next page", heats: [2, 4], draw: nextPage },
  { name: "symbol and content in one cell", draw: symbolInCell },
  { name: "titles turned a quarter", printing: () => ({ turnedTitles: true }), draw: turnedTitles },
];

const hasRange = (element: string) => element === "Cr" || element === "Ni";

function upperLimit(element: string, style: Style): string {
  return print(hasRange(element) ? "20.00" : "2.000", style);
}

/** One row of titles for the first half of the elements, another under their values for the rest. */
function stackedBands(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const elements = symbolsOf(content);
  const half = Math.ceil(elements.length / 2);
  const unit = random.pick([" %", " [%]"]);
  const isNamedAgain = heats.length > 1 || random.chance(0.5);
  const band = (from: number, to: number): Drawn[][] => [
    [from > 0 && !isNamedAgain ? "" : words.heat, ...elements.slice(from, to).map((element) => `${element}${unit}`)],
    ...heats.map((heat) => [
      from > 0 && !isNamedAgain ? "" : heatCell(heat),
      ...chemistryCells(heat, style).slice(from, to),
    ]),
  ];
  return [
    header(content),
    text(words.chemistry),
    table([...band(0, half), ...band(half, elements.length)], { headRows: 1 }),
  ];
}

function blocksBeside(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const block = (heat: Heat) => {
    const values = chemistryCells(heat, style);
    return table(
      [
        [words.heat, cell(heat.name, { heat: heat.name, columns: 2 })],
        [words.element, words.max, words.actual],
        ...heat.chemistry.map(([element], index): Drawn[] => [
          `${element} %`,
          upperLimit(element, style),
          values[index]!,
        ]),
      ],
      { headRows: 2 },
    );
  };
  return [header(content), text(words.chemistry), beside(...heats.map(block))];
}

function limitsBetween(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const elements = symbolsOf(content);
  const isAbove = random.chance(0.5);
  const rows = heats.flatMap((heat, index): Drawn[][] => {
    const results = [String(index + 1), heatCell(heat), ...chemistryCells(heat, style)];
    const min = ["", words.min, ...elements.map((one) => (hasRange(one) ? print("8.00", style) : ""))];
    const max = ["", words.max, ...elements.map((one) => upperLimit(one, style))];
    return isAbove ? [min, max, results] : [results, min, max];
  });
  return [header(content), text(`${words.chemistry} (%)`), table([["Item", words.heat, ...elements], ...rows])];
}

function lettersWithLegend(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const { analysisLetters, analysisLegend } = style.practice!;
  const rows = heats.flatMap((heat) =>
    (["heat", "product"] as const).map((analysis, index): Drawn[] =>
      [
        index === 0 ? heatCell(heat, { rows: 2 }) : undefined,
        analysisLetters[index]!,
        ...chemistryCells(heat, style, { analysis }),
      ].filter((one): one is Drawn => one !== undefined),
    ),
  );
  const legend = text(analysisLegend);
  const results = table([[words.heat, random.pick([words.analysis, ""]), ...symbolsOf(content)], ...rows]);
  const title = text(`${words.chemistry} %`);
  return random.chance(0.5) ? [header(content), title, legend, results] : [header(content), title, results, legend];
}

function heatGroups(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const columns = heats.map((heat) => ({
    ladle: chemistryCells(heat, style, { analysis: "heat" }),
    check: chemistryCells(heat, style, { analysis: "product" }),
  }));
  const rows = symbolsOf(content).map((element, index): Drawn[] => [
    `${element} %`,
    ...columns.flatMap(({ ladle, check }) => [ladle[index]!, check[index]!]),
  ]);
  return [
    header(content),
    table(
      [
        [words.heat, ...heats.map((heat) => cell(heat.name, { heat: heat.name, columns: 2 }))],
        [words.element, ...heats.flatMap(() => [words.heatAnalysis, words.productAnalysis])],
        ...rows,
      ],
      { headRows: 2 },
    ),
  ];
}

/** "0.021 (max 0.030)" */
function limitBehind(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const form = random.pick([
    (value: string, limit: string) => `${value} (${words.max} ${limit})`,
    (value: string, limit: string) => `${value} [max. ${limit}]`,
    (value: string, limit: string) => `${value} (<=${limit})`,
  ]);
  const rows = heats.map((heat): Drawn[] => [
    heatCell(heat),
    ...chemistryCells(heat, style).map((one): Cell => {
      const element = one.truths[0]!.quantity;
      return hasRange(element) ? one : { ...one, text: form(one.text, upperLimit(element, style)) };
    }),
  ]);
  return [header(content), table([[words.heat, ...symbolsOf(content).map((element) => `${element} %`)], ...rows])];
}

/** "<0.002" and "<=0.003" bound the content; "~0.02" and "trace" say less than a value does. */
function qualified(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words, practice } = style;
  const qualify = (one: Cell): Drawn => {
    const truth = one.truths[0]!;
    if (hasRange(truth.quantity) || random.chance(0.55)) return one;
    const bounded = (sign: string, bound: string) =>
      cell(`${sign}${print("0.005", style)}`, { truths: [{ ...truth, value: "0.005", bound }] });
    return random.pick([
      () => bounded("<", "<"),
      () => bounded("< ", "<"),
      () => bounded("<=", "<="),
      () => cell(`${random.pick(["~", "ca. ", "approx. "])}${one.text}`, { truths: [{ ...truth, isDoubtful: true }] }),
      () => cell(practice!.notFound),
      () => cell("n.d."),
    ])();
  };
  const rows = heats.map((heat): Drawn[] => [heatCell(heat), ...chemistryCells(heat, style).map(qualify)]);
  return [header(content), text(`${words.chemistry}, %`), table([[words.heat, ...symbolsOf(content)], ...rows])];
}

/** The first page ends with the first elements; the second has a header of its own and the rest. */
function nextPage(content: Content): Part[] {
  const { style, heats } = content;
  const { words, practice } = style;
  const elements = symbolsOf(content);
  const half = Math.ceil(elements.length / 2);
  const page = (from: number, to: number) =>
    table([
      [words.heat, words.plate, ...elements.slice(from, to).map((element) => `${element} %`)],
      ...heats.map((heat): Drawn[] => [heatCell(heat), heat.plate, ...chemistryCells(heat, style).slice(from, to)]),
    ]);
  return [
    header(content),
    text(`${words.chemistry} 1/2`),
    page(0, half),
    text(`${practice!.continued} 2/2`),
    { kind: "page" },
    fields([words.certificate, content.number]),
    text(`${words.chemistry} (${practice!.continued})`),
    page(half, elements.length),
  ];
}

/** "C 0.021" */
function symbolInCell(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const sign = random.pick([" ", ": ", " = "]);
  return [
    header(content),
    ...heats.flatMap((heat): Part[] => {
      const cells = chemistryCells(heat, style).map(
        (one, index): Cell => ({ ...one, text: `${heat.chemistry[index]![0]}${sign}${one.text} %` }),
      );
      return [
        text(cell(`${words.heat} ${heat.name}`, { heat: heat.name })),
        table([cells.slice(0, 5), [...cells.slice(5, 10), ...cells.slice(10).map(() => "")]], { headRows: 0 }),
      ];
    }),
  ];
}

function turnedTitles(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const elements = symbolsOf(content);
  const rows = heats.map((heat) => [heatCell(heat), heat.plate, ...chemistryCells(heat, style)]);
  const head: Drawn[][] = [
    [cell(words.heat, { rows: 2 }), cell(words.plate, { rows: 2 }), span(`${words.chemistry} %`, elements.length)],
    elements,
  ];
  return [header(content), table([...head, ...rows], { headRows: 2 })];
}
