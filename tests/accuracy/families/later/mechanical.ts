import type { Content } from "../../content.js";
import {
  averageCell,
  cell,
  type Drawn,
  energyCells,
  expansionCells,
  fields,
  header,
  heatCell,
  impactTruth,
  shearCells,
  span,
  table,
  tensileCells,
  tensileTitles,
  text,
  unsaid,
} from "../../draw.js";
import type { Cell, Part } from "../../paper.js";
import type { Random } from "../../random.js";
import { print } from "../../styles/style.js";
import type { Family } from "../family.js";

export const LATER_MECHANICAL: readonly Family[] = [
  { name: "two specimens in column groups", draw: specimenGroups },
  { name: "properties down, limits and tests across", draw: propertiesDown },
  { name: "numbered singles under groups, nothing ruled", draw: numberedSingles, printing: () => ({ ruling: "none" }) },
  { name: "two temperatures in column groups", draw: temperatureGroups },
  { name: "ratios and verdicts between the values", draw: betweenValues },
  { name: "lines of label and value", draw: labelledLines },
  { name: "titles in two languages, one under the other", draw: stackedLanguages },
  { name: "titles wrapped in narrow columns", draw: wrappedTitles, printing: () => ({ narrow: true }) },
];

function specimenGroups(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const titles = tensileTitles(content);
  const head: Drawn[][] = [
    [cell(words.heat, { rows: 2 }), ...[1, 2].map((piece) => span(`${words.specimen} ${piece}`, titles.length))],
    [...titles, ...titles],
  ];
  const rows = heats.map((heat) => {
    const [first, second] = heat.tensile;
    const blank = titles.map(() => "");
    return [
      heatCell(heat),
      ...tensileCells(heat, first!, style),
      ...(second ? tensileCells(heat, second, style) : blank),
    ];
  });
  return [header(content), text(words.tensile), table([...head, ...rows], { headRows: 2 })];
}

function propertiesDown(content: Content, random: Random): Part[] {
  const { style } = content;
  const { words } = style;
  const heat = content.heats[0]!;
  const tests = heat.tensile.map((piece) => tensileCells(heat, piece, style));
  const names = tensileTitles(content, false);
  const rows = names.map((name, row): Drawn[] => [
    name,
    row === names.length - 1 ? "%" : style.stress,
    style.stress === "ksi" ? "25" : row === names.length - 1 ? "40" : "170",
    "",
    ...tests.map((cells) => cells[row]!),
  ]);
  const unit = { Min: "Unit", "Min.": "Unité", Minimo: "Unità", Mínimo: "Unidad" }[words.min] ?? "Unit";
  const title = random.pick([words.specimen, "Test"]);
  return [
    fields([words.certificate, content.number], [words.heat, heatCell(heat)]),
    text(words.tensile),
    table([[words.element, unit, words.min, words.max, ...tests.map((_, index) => `${title} ${index + 1}`)], ...rows]),
  ];
}

function numberedSingles(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const hasShear = random.chance(0.5);
  const rows = heats.flatMap((heat) =>
    heat.impact.map((set) => [
      heatCell(heat),
      words.zones[set.zone],
      "-196",
      ...energyCells(heat, set),
      averageCell(heat, set),
      ...expansionCells(heat, set, style),
      ...(hasShear ? shearCells(heat, set) : []),
    ]),
  );
  const head: Drawn[][] = [
    [
      words.heat,
      words.zone,
      `${words.temperature} °C`,
      span(`${words.energy} [J]`, 4),
      span(`${words.lateral} [mm]`, 3),
      ...(hasShear ? [span(`${words.shear} [%]`, 3)] : []),
    ],
    ["", "", "", "1", "2", "3", words.average, "1", "2", "3", ...(hasShear ? ["1", "2", "3"] : [])],
  ];
  return [text(words.impact), table([...head, ...rows], { headRows: 2 })];
}

function temperatureGroups(content: Content): Part[] {
  const { words } = content.style;
  const temperatures = ["-196", "20"];
  const rows = content.heats.map((heat) => {
    const set = heat.impact[0]!;
    const groups = temperatures.map((temperature) => {
      const shared = impactTruth(heat, set, { temperature: `${temperature} °C` });
      return set.energies.map((energy, index) => {
        const value = String(energy + (temperature === "20" ? 61 + index : 0));
        return unsaid(cell(value, { truths: [{ ...shared, quantity: "KV", value, unit: "J" }] }), "zone");
      });
    });
    return [heatCell(heat), ...groups.flat()];
  });
  const head: Drawn[][] = [
    [cell(words.heat, { rows: 2 }), ...temperatures.map((one) => span(`KV [J] ${one === "20" ? "+20" : one} °C`, 3))],
    ["1", "2", "3", "1", "2", "3"],
  ];
  return [text(words.impact), table([...head, ...rows], { headRows: 2 })];
}

function betweenValues(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const rows = heats.flatMap((heat) =>
    heat.tensile.map((piece): Drawn[] => {
      const values = tensileCells(heat, piece, style, { temperature: "20 °C" });
      const hardness = cell(heat.hardness.slice(0, 2).join("/"), {
        truths: heat.hardness.slice(0, 2).map((value) => ({
          heat: heat.name,
          quantity: "HBW",
          value: String(value),
          unit: "HBW",
          temperature: "20 °C",
        })),
      });
      return [
        heatCell(heat),
        heat.plate,
        piece.name,
        random.pick(["20", "+20"]),
        ...values,
        print("0.46", style),
        "OK",
        hardness,
      ];
    }),
  );
  const head = [
    words.heat,
    words.plate,
    words.specimen,
    "°C",
    ...tensileTitles(content),
    "Rp0.2/Rm",
    "Bend test",
    "HBW",
  ];
  return [header(content), text(words.tensile), table([head, ...rows])];
}

function labelledLines(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const colon = random.pick(["", ":", " :"]);
  return heats.flatMap((heat): Part[] => {
    const piece = heat.tensile[0]!;
    const names = tensileTitles(content, false);
    const values = tensileCells(heat, piece, style).map((one, index): Cell => {
      const unit = index === names.length - 1 ? "%" : style.stress;
      return unsaid({ ...one, text: `${one.text} ${unit}` }, "set");
    });
    return [
      fields(
        [`${words.heat}${colon}`, heatCell(heat)],
        ...names.map((name, index) => [`${name}${colon}`, values[index]!] as const),
      ),
    ];
  });
}

const SECOND_TITLES: Readonly<Record<string, string>> = {
  "Rp0.2": "Yield strength Rp0.2",
  "Rp1.0": "Proof strength Rp1.0",
  Rm: "Tensile strength",
  A: "Elongation A",
  A50: "Elongation A50",
};

function stackedLanguages(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const { strengths, elongation } = heats[0]!.tensile[0]!;
  const quantities = [...strengths.map(([quantity]) => quantity), elongation[0]];
  const head: Drawn[][] = [
    [words.heat, words.direction, ...tensileTitles(content, false)],
    ["Heat", "Direction", ...quantities.map((quantity) => SECOND_TITLES[quantity]!)],
    ["", "", ...strengths.map(() => style.stress), "%"],
  ];
  const rows = heats.flatMap((heat) =>
    heat.tensile.map((piece, index) => {
      const orientation = index === 0 ? "longitudinal" : "transverse";
      return [heatCell(heat), words.directions[orientation], ...tensileCells(heat, piece, style, { orientation })];
    }),
  );
  return [header(content), text(words.tensile), table([...head, ...rows], { headRows: 3 })];
}

function wrappedTitles(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const rows = heats.flatMap((heat) =>
    heat.tensile.map((piece) => [heatCell(heat), piece.name, ...tensileCells(heat, piece, style)]),
  );
  const impact = heats.flatMap((heat) =>
    heat.impact.map((set) => [
      heatCell(heat),
      words.zones[set.zone],
      "-196",
      ...energyCells(heat, set),
      averageCell(heat, set),
    ]),
  );
  const singles = [1, 2, 3].map((piece) => `${words.energy} ${piece} [J]`);
  return [
    header(content),
    text(words.tensile),
    table([[words.heat, words.specimen, ...tensileTitles(content)], ...rows]),
    text(words.impact),
    table([[words.heat, words.zone, `${words.temperature} [°C]`, ...singles, `${words.average} [J]`], ...impact]),
  ];
}
