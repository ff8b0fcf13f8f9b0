import type { Content, Heat, ImpactSet } from "../../content.js";
import {
  averageCell,
  cell,
  type Drawn,
  energyCells,
  expansionCells,
  fields,
  heatCell,
  impactTruth,
  shearCells,
  span,
  table,
  text,
} from "../../draw.js";
import type { Cell, Part } from "../../paper.js";
import type { Random } from "../../random.js";
import type { Family } from "../family.js";

export const IMPACT: readonly Family[] = [
  { name: "degrees Fahrenheit and foot-pounds", draw: fahrenheit },
  { name: "kelvin over the table", draw: kelvin },
  { name: "energy, expansion and shear in groups", draw: groups },
  { name: "zones as lines between the rows", draw: zoneLines },
  { name: "a sheet for each zone", draw: zoneSheets },
  { name: "retests in rows", draw: retests },
  { name: "pieces and their average in rows", draw: piecesAndAverage },
];

function everySet({ heats }: Content): { heat: Heat; set: ImpactSet }[] {
  return heats.flatMap((heat) => heat.impact.map((set) => ({ heat, set })));
}

function fahrenheit(content: Content, random: Random): Part[] {
  const { words } = content.style;
  const temperature = random.pick(["-320", "-150", "32"]);
  const rows = everySet(content).map(({ heat, set }) => {
    const shared = impactTruth(heat, set, { temperature: `${temperature} °F` });
    const energies = set.energies.map((joules) => {
      const value = (joules * 0.7375621).toFixed(0);
      return cell(value, { truths: [{ ...shared, quantity: "KV", value, unit: "ft.lbf" }] });
    });
    const expansions = set.expansions.map((mm) => {
      const value = (Number(mm) / 0.0254).toFixed(0);
      return cell(value, { truths: [{ ...shared, quantity: "LE", value, unit: "mil" }] });
    });
    return [heatCell(heat), words.zones[set.zone], temperature, ...energies, ...expansions];
  });
  const energy = random.pick(["ft-lbs", "ft·lbf", "ft.lb"]);
  const head: Drawn[][] = [
    [
      words.heat,
      words.zone,
      `${words.temperature} (°F)`,
      span(`${words.energy} (${energy})`, 3),
      span(`${words.lateral} (mils)`, 3),
    ],
    ["", "", "", "1", "2", "3", "1", "2", "3"],
  ];
  return [text(words.impact), table([...head, ...rows], { headRows: 2 })];
}

function kelvin(content: Content): Part[] {
  const { words } = content.style;
  const said = { temperature: "77 K" };
  const rows = everySet(content).map(({ heat, set }) => [
    heatCell(heat),
    words.zones[set.zone],
    ...energyCells(heat, set, said),
    averageCell(heat, set, said),
  ]);
  return [
    text(`${words.impact}, 77 K`),
    table([[words.heat, words.zone, "KV1 J", "KV2 J", "KV3 J", `${words.average} J`], ...rows]),
  ];
}

function groups(content: Content, random: Random): Part[] {
  const { style } = content;
  const { words } = style;
  const width = random.pick(["10", "7.5", "5"]);
  const said = { orientation: "transverse", specimenWidth: `${width} mm` };
  const rows = everySet(content).map(({ heat, set }) => [
    heatCell(heat),
    words.zones[set.zone],
    words.directions.transverse,
    style.comma ? `10x${width.replace(".", ",")}` : `10 x ${width} mm`,
    "-196",
    ...energyCells(heat, set, said),
    averageCell(heat, set, said),
    ...expansionCells(heat, set, style, said),
    ...shearCells(heat, set, said),
  ]);
  const tall = (title: string) => cell(title, { rows: 2 });
  const head: Drawn[][] = [
    [
      ...[words.heat, words.zone, words.direction, words.size, `${words.temperature} °C`].map(tall),
      span(`${words.energy} J`, 4),
      span(`${words.lateral} mm`, 3),
      span(`${words.shear} %`, 3),
    ],
    ["1", "2", "3", words.average, "1", "2", "3", "1", "2", "3"],
  ];
  return [text(words.impact), table([...head, ...rows], { headRows: 2 })];
}

function zoneLines(content: Content): Part[] {
  const { words } = content.style;
  const heat = content.heats[0]!;
  const rows = heat.impact.flatMap((set, index): Drawn[][] => [
    [words.zones[set.zone]],
    [`S${index + 1}`, ...energyCells(heat, set), averageCell(heat, set)],
  ]);
  return [
    fields([words.heat, heatCell(heat)]),
    text(`${words.impact}, -196 °C`),
    table([[words.specimen, "KV 1 J", "KV 2 J", "KV 3 J", `${words.average} J`], ...rows]),
  ];
}

function zoneSheets(content: Content): Part[] {
  const { words } = content.style;
  const zones = [...new Set(everySet(content).map(({ set }) => set.zone))];
  return zones.flatMap((zone): Part[] => {
    const rows = everySet(content)
      .filter(({ set }) => set.zone === zone)
      .map(({ heat, set }) => [heatCell(heat), "-196", ...energyCells(heat, set), averageCell(heat, set)]);
    return [
      { kind: "sheet", name: words.zones[zone] },
      text(words.impact),
      table([[words.heat, "°C", "KV 1 J", "KV 2 J", "KV 3 J", `${words.average} J`], ...rows]),
    ];
  });
}

function retests(content: Content, random: Random): Part[] {
  const { words } = content.style;
  const rows = everySet(content).flatMap(({ heat, set }): Drawn[][] => {
    const row = (said: { retest?: boolean }, remark: string, energies: readonly Cell[]) => [
      heatCell(heat),
      words.zones[set.zone],
      "-196 °C",
      ...energies,
      averageCell(heat, set, said),
      remark,
    ];
    const first = row({}, "", energyCells(heat, set));
    if (random.chance(0.5)) return [first];
    return [first, row({ retest: true }, words.retest, energyCells(heat, set, { retest: true }))];
  });
  const singles = [1, 2, 3].map((piece) => `KV ${piece} J`);
  return [
    text(words.impact),
    table([[words.heat, words.zone, words.temperature, ...singles, `${words.average} J`, words.remarks], ...rows]),
  ];
}

function piecesAndAverage(content: Content): Part[] {
  const { words } = content.style;
  const rows = everySet(content).flatMap(({ heat, set }): Drawn[][] => {
    const energies = energyCells(heat, set);
    return [
      [heatCell(heat, { rows: 4 }), cell(words.zones[set.zone], { rows: 4 }), "1", energies[0]!],
      ["2", energies[1]!],
      ["3", energies[2]!],
      [words.average, averageCell(heat, set)],
    ];
  });
  return [
    text(`${words.impact} -196 °C`),
    table([[words.heat, words.zone, words.specimen, `${words.energy} [J]`], ...rows]),
  ];
}
