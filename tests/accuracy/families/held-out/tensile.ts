import type { Content, Heat, TensilePiece } from "../../content.js";
import {
  cell,
  chemistryCells,
  type Drawn,
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
import type { Cell, Part } from "../../paper.js";
import type { Random } from "../../random.js";
import { print } from "../../styles/style.js";
import type { Family } from "../family.js";

export const TENSILE: readonly Family[] = [
  { name: "tests in columns", draw: testsInColumns },
  { name: "hardness readings beside the tensile test", draw: hardnessBeside },
  { name: "three rows of titles, merged", draw: threeTitleRows },
  { name: "limits above, directions down", draw: limitsAndDirections },
  { name: "pieces named after their heats", heats: [2, 3], draw: piecesNamedAfterHeats },
  { name: "plates tie the tests to the heats", heats: [2, 3], draw: platesTie },
];

const DIRECTIONS = ["longitudinal", "transverse"] as const;

function everyPiece({ heats }: Content): { heat: Heat; piece: TensilePiece; index: number }[] {
  return heats.flatMap((heat) => heat.tensile.map((piece, index) => ({ heat, piece, index })));
}

function testsInColumns(content: Content): Part[] {
  const { style } = content;
  const { words } = style;
  const tests = everyPiece(content);
  const direction = (index: number) => DIRECTIONS[index % 2]!;
  const values = tests.map(({ heat, piece, index }) =>
    tensileCells(heat, piece, style, { orientation: direction(index) }),
  );
  return [
    text(words.tensile),
    table(
      [
        [words.heat, ...tests.map(({ heat }) => heatCell(heat))],
        [words.direction, ...tests.map(({ index }) => words.directions[direction(index)])],
        ...tensileTitles(content).map((title, row) => [title, ...values.map((cells) => cells[row]!)]),
      ],
      { headRows: 0 },
    ),
  ];
}

function hardnessCells(heat: Heat): Cell[] {
  return heat.hardness.map((value) =>
    cell(String(value), { truths: [{ heat: heat.name, quantity: "HBW", value: String(value), unit: "HBW" }] }),
  );
}

function hardnessBeside(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const rows = heats.map((heat) => [
    heatCell(heat),
    ...tensileCells(heat, heat.tensile[0]!, style),
    ...hardnessCells(heat),
  ]);
  const head: Drawn[][] = [
    [cell(words.heat, { rows: 2 }), ...tensileTitles(content).map((title) => cell(title, { rows: 2 })), span("HBW", 3)],
    ["1", "2", "3"],
  ];
  return [header(content), text(words.tensile), table([...head, ...rows], { headRows: 2 })];
}

function threeTitleRows(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const titles = tensileTitles(content, false);
  const units = [...titles.slice(1).map(() => style.stress), "%"];
  const elements = symbolsOf(content);
  const head: Drawn[][] = [
    [
      cell(words.heat, { rows: 3 }),
      cell(words.chemistry, { columns: elements.length }),
      cell(words.tensile, { columns: titles.length }),
    ],
    [...elements, ...titles],
    [...elements.map(() => "%"), ...units],
  ];
  const rows = heats.map((heat) => [
    heatCell(heat),
    ...chemistryCells(heat, style),
    ...tensileCells(heat, heat.tensile[0]!, style),
  ]);
  return [header(content), table([...head, ...rows], { headRows: 3 })];
}

function limitsAndDirections(content: Content, random: Random): Part[] {
  const { style } = content;
  const { words } = style;
  const strengths = content.heats[0]!.tensile[0]!.strengths;
  const min = strengths.map(([quantity]) =>
    style.stress === "ksi" ? (quantity === "Rm" ? "75" : "30") : quantity === "Rm" ? "500" : "200",
  );
  const rows = everyPiece(content).map(({ heat, piece, index }) => {
    const orientation = DIRECTIONS[index % 2]!;
    return [
      heatCell(heat),
      piece.name,
      words.directions[orientation],
      ...tensileCells(heat, piece, style, { orientation }),
    ];
  });
  const limits: Drawn[] = [words.min, "", "", ...min, "45"];
  const head = [words.heat, words.specimen, words.direction, ...tensileTitles(content)];
  return [
    header(content),
    text(words.tensile),
    table([head, ...(random.chance(0.5) ? [limits, ...rows] : [...rows, limits])]),
  ];
}

function piecesNamedAfterHeats(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const rows = everyPiece(content).map(({ heat, piece, index }) => [
    cell(`${heat.name}-${index + 1}`),
    ...tensileCells(heat, piece, style),
  ]);
  return [
    header(content),
    text(`${words.chemistry} %`),
    table([
      [words.heat, ...symbolsOf(content)],
      ...heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style)]),
    ]),
    text(words.tensile),
    table([[words.specimen, ...tensileTitles(content)], ...rows]),
  ];
}

function platesTie(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  return [
    fields([words.certificate, content.number], ["EN 10204", "3.1"]),
    table([
      [words.plate, words.heat, words.thickness],
      ...heats.map((heat, index) => [heat.plate, heatCell(heat), print(`${10 + index}.0`, style)]),
    ]),
    text(words.tensile),
    table([
      [words.plate, ...tensileTitles(content)],
      ...heats.map((heat) => [heat.plate, ...tensileCells(heat, heat.tensile[0]!, style)]),
    ]),
  ];
}
