import type { Content, Heat } from "../../content.js";
import {
  averageCell,
  averageOf,
  beside,
  cell,
  chemistryCells,
  type Drawn,
  energyCells,
  expansionCells,
  fields,
  header,
  heatCell,
  impactTruth,
  shearCells,
  span,
  symbolsOf,
  table,
  tensileCells,
  tensileTitles,
  text,
  unsaid,
} from "../../draw.js";
import type { Cell, Part, Truth } from "../../paper.js";
import type { Random } from "../../random.js";
import { print } from "../../styles/style.js";
import type { Family } from "../family.js";

export const PRACTICE_MECHANICAL: readonly Family[] = [
  { name: "impact on a sheet of its own, tied by plates", heats: [2, 3], draw: impactByPlate },
  { name: "a mean under the pieces of each heat", heats: [2, 3], draw: meansBetween },
  { name: "zones and pieces across, quantities down", heats: [1, 2], draw: quantitiesDown },
  { name: "tall tensile values beside impact pieces", draw: tallBesidePieces },
  { name: "property, method, unit, result, requirement, verdict", heats: [1, 1], draw: laboratoryList },
  { name: "units only in a legend", draw: unitLegend },
  { name: "one heat, plates at top and bottom", heats: [1, 1], draw: topAndBottom },
  { name: "tests across with the limits last, two heats", heats: [2, 2], draw: limitsLast },
  { name: "retests under a heading of their own", draw: retestHeading },
  { name: "impact beside tensile, each with its own titles", heats: [2, 3], draw: impactBesideTensile },
];

const SINGLES = ["KV 1 J", "KV 2 J", "KV 3 J"];

function impactByPlate(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  return [
    header(content),
    text(words.chemistry),
    table([
      [words.plate, words.heat, ...symbolsOf(content).map((element) => `${element} %`)],
      ...heats.map((heat): Drawn[] => [heat.plate, heatCell(heat), ...chemistryCells(heat, style)]),
    ]),
    { kind: "page" },
    { kind: "sheet", name: words.impact },
    table([
      [words.plate, words.zone, `${words.temperature} °C`, ...SINGLES, `${words.average} J`],
      ...heats.flatMap((heat) =>
        heat.impact.map((set): Drawn[] => [
          heat.plate,
          words.zones[set.zone],
          "-196",
          ...energyCells(heat, set),
          averageCell(heat, set),
        ]),
      ),
    ]),
  ];
}

/** The mean of strengths says nothing of a piece: a reading of it must say that it is one. */
function meansBetween(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const rows = heats.flatMap((heat): Drawn[][] => {
    const pieces = heat.tensile.map((piece) => tensileCells(heat, piece, style));
    const means = pieces[0]!.map((one, index): Cell => {
      const numbers = pieces.map((cells) => Number(cells[index]!.truths[0]!.value));
      const places = one.truths[0]!.value.includes(".") ? 1 : 0;
      const value = (numbers.reduce((sum, number) => sum + number, 0) / numbers.length).toFixed(places);
      const { set: _set, ...truth } = one.truths[0]!;
      return cell(print(value, style), { truths: [{ ...truth, value, average: true }] });
    });
    return [
      ...pieces.map((cells, index): Drawn[] => [heatCell(heat), heat.tensile[index]!.name, ...cells]),
      ...(pieces.length > 1 ? [["", words.average, ...means]] : []),
    ];
  });
  return [
    header(content),
    text(words.tensile),
    table([[words.heat, words.specimen, ...tensileTitles(content)], ...rows]),
  ];
}

function quantitiesDown(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  return [
    header(content),
    ...heats.flatMap((heat): Part[] => {
      const sets = heat.impact;
      const pieces = sets.flatMap(() => ["1", "2", "3"]);
      return [
        text(cell(`${words.heat}: ${heat.name}`, { heat: heat.name })),
        text(`${words.impact} -196 °C`),
        table(
          [
            [words.zone, ...sets.map((set) => span(words.zones[set.zone], 3))],
            [words.specimen, ...pieces],
            ["KV [J]", ...sets.flatMap((set) => energyCells(heat, set))],
            [`${words.lateral} [mm]`, ...sets.flatMap((set) => expansionCells(heat, set, style))],
            [`${words.shear} [%]`, ...sets.flatMap((set) => shearCells(heat, set))],
          ],
          { headRows: 2 },
        ),
      ];
    }),
  ];
}

function tallBesidePieces(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const rows = heats.flatMap((heat): Drawn[][] => {
    const tensile = tensileCells(heat, heat.tensile[0]!, style).map((one): Cell => ({ ...one, rows: 3 }));
    const energies = energyCells(heat, heat.impact[0]!).map((one) => unsaid(one, "zone"));
    return [
      [heatCell(heat, { rows: 3 }), ...tensile, "1", energies[0]!],
      ["2", energies[1]!],
      ["3", energies[2]!],
    ];
  });
  return [header(content), table([[words.heat, ...tensileTitles(content), words.specimen, "KV -196 °C [J]"], ...rows])];
}

function laboratoryList(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const practice = style.practice!;
  const heat = heats[0]!;
  const names = tensileTitles(content, false);
  const set = heat.impact[0]!;
  const tensile = tensileCells(heat, heat.tensile[0]!, style).map((one, index): Drawn[] => {
    const isStrength = index < names.length - 1;
    const least = isStrength ? (style.stress === "ksi" ? "25" : "170") : "40";
    return [
      names[index]!,
      "ISO 6892-1",
      isStrength ? style.stress : "%",
      unsaid(one, "set"),
      `min. ${least}`,
      practice.passed,
    ];
  });
  const impact = energyCells(heat, set).map((one, index): Drawn[] => [
    `KV ${index + 1}, -196 °C`,
    "ISO 148-1",
    "J",
    unsaid(one, "zone", "set"),
    "min. 40",
    practice.passed,
  ]);
  return [
    fields([words.certificate, content.number], [words.heat, heatCell(heat)], [words.order, content.order]),
    table([
      [words.element, practice.method, practice.unit, words.actual, practice.requirement, practice.verdict],
      ...tensile,
      ...impact,
    ]),
  ];
}

function unitLegend(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const rows = heats.map((heat) => [
    heatCell(heat),
    ...chemistryCells(heat, style),
    ...tensileCells(heat, heat.tensile[0]!, style),
  ]);
  return [
    header(content),
    table([[words.heat, ...symbolsOf(content), ...tensileTitles(content, false)], ...rows]),
    text(style.practice!.unitLegend.replace("{stress}", style.stress)),
  ];
}

function topAndBottom(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const { position, positions, piece: pieceTitle } = style.practice!;
  const heat = heats[0]!;
  const plates = [heat.plate, `${heat.plate}A`];
  const rows = plates.flatMap((plate, at) =>
    positions.map((place, index): Drawn[] => {
      const piece = heat.tensile[index % heat.tensile.length]!;
      const set = `${heat.name} ${plate} ${place}`;
      return [plate, String(2 * at + index + 1), place, ...tensileCells(heat, piece, style, { set })];
    }),
  );
  return [
    fields([words.certificate, content.number], [words.heat, heatCell(heat)], [words.grade, "1.4307"]),
    text(words.tensile),
    table([[words.plate, pieceTitle, position, ...tensileTitles(content)], ...rows]),
  ];
}

function limitsLast(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const names = tensileTitles(content, false);
  const columns = heats.map((heat) => tensileCells(heat, heat.tensile[0]!, style));
  const rows = names.map((name, index): Drawn[] => {
    const isStrength = index < names.length - 1;
    return [
      name,
      isStrength ? style.stress : "%",
      ...columns.map((cells) => cells[index]!),
      isStrength ? (style.stress === "ksi" ? "25" : "170") : "40",
      "-",
    ];
  });
  return [
    header(content),
    text(words.tensile),
    table([[words.heat, "", ...heats.map((heat) => heatCell(heat)), words.min, words.max], ...rows]),
  ];
}

function retestHeading(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const row = (heat: Heat, said: Partial<Truth>, more: number): Drawn[] => {
    const set = heat.impact[0]!;
    const higher = { ...set, energies: set.energies.map((energy) => energy + more) };
    const shared = impactTruth(heat, set, said);
    const value = averageOf(higher);
    return [
      heatCell(heat),
      words.zones[set.zone],
      "-196",
      ...higher.energies.map((energy) =>
        cell(String(energy), { truths: [{ ...shared, quantity: "KV", value: String(energy), unit: "J" }] }),
      ),
      cell(value, { truths: [{ ...shared, quantity: "KV", value, unit: "J", average: true }] }),
    ];
  };
  return [
    header(content),
    text(words.impact),
    table([
      [words.heat, words.zone, `${words.temperature} °C`, ...SINGLES, `${words.average} J`],
      ...heats.map((heat) => row(heat, {}, 0)),
      [span(words.retest, 7)],
      ...heats.slice(0, 1).map((heat) => row(heat, { retest: true }, 17)),
    ]),
  ];
}

function impactBesideTensile(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const temperature = random.pick(["-196", "-196 °C"]);
  const tensile = table([
    [words.heat, ...tensileTitles(content)],
    ...heats.map((heat) => [heatCell(heat), ...tensileCells(heat, heat.tensile[0]!, style)]),
  ]);
  const impact = table([
    [words.heat, `${words.temperature} [°C]`, ...SINGLES, `${words.average} J`],
    ...heats.map((heat): Drawn[] => [
      heatCell(heat),
      temperature,
      ...[...energyCells(heat, heat.impact[0]!), averageCell(heat, heat.impact[0]!)].map((one) => unsaid(one, "zone")),
    ]),
  ]);
  return [header(content), beside(tensile, impact)];
}
