import type { Content, Heat } from "../../content.js";
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
  text,
} from "../../draw.js";
import type { Cell, Part } from "../../paper.js";
import type { Random } from "../../random.js";
import { print, type Style } from "../../styles/style.js";
import type { Family } from "../family.js";

export const LATER_CHEMISTRY: readonly Family[] = [
  { name: "elements down, limits and heats across", draw: elementsDownHeatsAcross },
  { name: "traces below a bound, places left empty", draw: boundsAndGaps, heats: [2, 4] },
  { name: "ranges above, limits below", draw: rangesAround },
  { name: "codes in a row over the symbols", draw: codeRow },
  { name: "ladle and product analysis in column groups", draw: analysisGroups },
  { name: "footnotes at titles and values", draw: footnotes },
];

const isRange = (element: string) => element === "Cr" || element === "Ni";

function limits(element: string, style: Style): readonly [min: string, max: string] {
  return [isRange(element) ? print("8.00", style) : "", print(isRange(element) ? "20.00" : "2.000", style)];
}

function elementsDownHeatsAcross(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const columns = heats.map((heat) => chemistryCells(heat, style));
  const unit = random.pick([" %", " [%]", ""]);
  const rows = symbolsOf(content).map((element, index): Drawn[] => [
    `${element}${unit}`,
    ...limits(element, style),
    ...columns.map((cells) => cells[index]!),
  ]);
  return [
    header(content),
    text(unit === "" ? `${words.chemistry} [%]` : words.chemistry),
    table([[words.heat, words.min, words.max, ...heats.map((heat) => heatCell(heat))], ...rows]),
  ];
}

/** "<0.010" where nothing was found, nothing where nothing was looked for. */
function boundsAndGaps(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const sign = random.pick(["<", "< "]);
  const rows = heats.map((heat) => [
    heatCell(heat),
    ...chemistryCells(heat, style).map((one): Drawn => {
      const truth = one.truths[0]!;
      if (isRange(truth.quantity) || random.chance(0.7)) return one;
      if (random.chance(0.5)) return random.pick(["", "-", "–"]);
      const value = truth.quantity === "N" || truth.quantity === "S" ? "0.001" : "0.010";
      return cell(`${sign}${print(value, style)}`, { truths: [{ ...truth, value, bound: "<" }] });
    }),
  ]);
  const title = random.chance(0.5) ? `${words.chemistry} (% m/m)` : `${words.chemistry} %`;
  return [header(content), text(title), table([[words.heat, ...symbolsOf(content)], ...rows])];
}

function rangesAround(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const elements = symbolsOf(content);
  const range = elements.map((element) => {
    const [min, max] = limits(element, style);
    return min === "" ? `≤ ${max}` : `${min} - ${max}`;
  });
  const rows = heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style)]);
  return [
    header(content),
    table([
      [words.heat, ...elements.map((element) => `${element} %`)],
      ["EN 10088-2", ...range],
      ...rows,
      [`ASTM A240 ${words.max}`, ...elements.map((element) => limits(element, style)[1])],
    ]),
  ];
}

function codeRow(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const elements = symbolsOf(content);
  const head: Drawn[][] = [
    ["B07", ...elements.map((_, index) => `C${71 + index}`)],
    [style.words.heat, ...elements],
  ];
  if (random.chance(0.5)) head.push(["", ...elements.map(() => "%")]);
  return [
    header(content),
    text(`C71-C92 ${style.words.chemistry}${head.length === 2 ? " %" : ""}`),
    table([...head, ...heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style)])], {
      headRows: head.length,
    }),
  ];
}

function analysisGroups(content: Content): Part[] {
  const { style } = content;
  const { words } = style;
  const heats = content.heats.map(
    (heat): Heat => ({ ...heat, chemistry: heat.chemistry.slice(0, 5), product: heat.product.slice(0, 5) }),
  );
  const elements = heats[0]!.chemistry.map(([element]) => element);
  const head: Drawn[][] = [
    [
      cell(words.heat, { rows: 2 }),
      span(`${words.heatAnalysis} %`, elements.length),
      span(`${words.productAnalysis} %`, elements.length),
    ],
    [...elements, ...elements],
  ];
  const rows = heats.map((heat) => [
    heatCell(heat),
    ...chemistryCells(heat, style, { analysis: "heat" }),
    ...chemistryCells(heat, style, { analysis: "product" }),
  ]);
  return [header(content), table([...head, ...rows], { headRows: 2 })];
}

function footnotes(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const sign = random.pick(["*", "¹)", "*)", "²)"]);
  const marked = random.pick(symbolsOf(content));
  const titles = symbolsOf(content).map((element) => `${element}${element === marked ? sign : ""}`);
  const rows = heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style)]);
  const starred = rows.map((row) => row.map((one, at): Cell => (at === 2 ? { ...one, text: `${one.text}*` } : one)));
  return [
    fields([words.certificate, content.number], [words.grade, "1.4404"]),
    text(`${words.chemistry} %`),
    table([[words.heat, ...titles], ...(random.chance(0.5) ? starred : rows)]),
    text(`${sign} ${random.pick(["ICP-OES", "EN ISO 14284", "see remark 4"])}`),
  ];
}
