import type { Content, Heat } from "../../content.js";
import {
  averageCell,
  cell,
  chemistryCells,
  type Drawn,
  energyCells,
  fields,
  header,
  heatCell,
  symbolsOf,
  table,
  tensileCells,
  tensileTitles,
  text,
  unsaid,
} from "../../draw.js";
import type { Cell, Part } from "../../paper.js";
import type { Random } from "../../random.js";
import { print, stressText } from "../../styles/style.js";
import type { Family } from "../family.js";

/** Forms, reports and files of several certificates; and papers on which not everything is what it seems. */
export const PRACTICE_PAPERS: readonly Family[] = [
  { name: "a form of label and value, two pairs a line", heats: [1, 1], draw: pairForm },
  { name: "labels on both sides in two languages", heats: [1, 1], draw: labelsOnBothSides },
  { name: "two certificates in one file", heats: [2, 2], draw: twoCertificates },
  { name: "item list with totals, then the results", heats: [2, 4], draw: itemsAndTotals },
  {
    name: "descriptions that wrap inside the rows",
    heats: [2, 3],
    printing: () => ({ narrowBody: true }),
    draw: wrapped,
  },
  { name: "results in lines of text", draw: linesOfText },
  { name: "values with a mark that a note takes back", draw: markedValues },
  { name: "typical values between the results", heats: [2, 3], draw: typicalRow },
  { name: "earlier deliveries under the results", heats: [1, 2], draw: earlierDeliveries },
  { name: "a paper that says it is preliminary", isReserved: true, draw: preliminary },
  { name: "remarks full of numbers beside the results", heats: [2, 3], draw: remarks },
];

function pairForm(content: Content, random: Random): Part[] {
  const { style, heats, number, order } = content;
  const { words } = style;
  const heat = heats[0]!;
  const names = tensileTitles(content, false);
  const colon = random.pick(["", ":"]);
  const tensile = tensileCells(heat, heat.tensile[0]!, style).map((one, index): Drawn[] => [
    `${names[index]!}${colon}`,
    unsaid({ ...one, text: `${one.text} ${index < names.length - 1 ? style.stress : "%"}` }, "set"),
  ]);
  const set = heat.impact[0]!;
  const energies = cell(`${set.energies.join(" / ")} J`, {
    truths: energyCells(heat, set).flatMap((one) => unsaid(one, "zone").truths),
  });
  const pairs: Drawn[][] = [
    [`${words.certificate}${colon}`, number],
    [`${words.order}${colon}`, order],
    [`${words.heat}${colon}`, heatCell(heat)],
    [`${words.grade}${colon}`, "1.4307"],
    ...tensile,
    [`KV -196 °C${colon}`, energies],
    [`${words.thickness}${colon}`, "12"],
  ];
  const rows: Drawn[][] = [];
  for (let at = 0; at < pairs.length; at += 2) rows.push([...pairs[at]!, ...(pairs[at + 1] ?? ["", ""])]);
  return [table(rows, { headRows: 0 })];
}

const SECOND: Readonly<Record<string, string>> = {
  "Rp0.2": "Dehngrenze Rp0.2",
  "Rp1.0": "Dehngrenze Rp1.0",
  Rm: "Zugfestigkeit",
  A: "Bruchdehnung A",
  A50: "Bruchdehnung A50",
};

/** Label, value, and the same label in another language on the right. */
function labelsOnBothSides(content: Content): Part[] {
  const { style, heats, number } = content;
  const { words } = style;
  const heat = heats[0]!;
  const { strengths, elongation } = heat.tensile[0]!;
  const quantities = [...strengths.map(([quantity]) => quantity), elongation[0]];
  const titles = tensileTitles(content);
  const values = tensileCells(heat, heat.tensile[0]!, style).map((one) => unsaid(one, "set"));
  const chemistry = chemistryCells(heat, style);
  return [
    table(
      [
        [words.certificate, number, "Zeugnis Nr."],
        [words.heat, heatCell(heat), "Schmelze"],
        ...titles.map((title, index): Drawn[] => [title, values[index]!, SECOND[quantities[index]!]!]),
        ...heat.chemistry.map(([element], index): Drawn[] => [`${element} %`, chemistry[index]!, element]),
      ],
      { headRows: 0 },
    ),
  ];
}

/** The second one has a layout of its own. */
function twoCertificates(content: Content): Part[] {
  const { style, heats, number } = content;
  const { words } = style;
  const [first, second] = heats as [Heat, Heat];
  const values = chemistryCells(second, style);
  return [
    { kind: "sheet", name: "1" },
    fields([words.certificate, number], [words.heat, heatCell(first)], [words.grade, "1.4307"]),
    table([symbolsOf(content).map((element) => `${element} %`), chemistryCells(first, style)]),
    table([tensileTitles(content), tensileCells(first, first.tensile[0]!, style)]),
    { kind: "page" },
    { kind: "sheet", name: "2" },
    fields([words.certificate, `${number}-2`], [words.heat, heatCell(second)], [words.grade, "1.4404"]),
    table([
      [words.element, words.max, words.actual],
      ...second.chemistry.map(([element], index): Drawn[] => [
        `${element} %`,
        print(element === "Cr" || element === "Ni" ? "20.00" : "2.00", style),
        values[index]!,
      ]),
    ]),
    table([tensileTitles(content), tensileCells(second, second.tensile[0]!, style)]),
  ];
}

function itemsAndTotals(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const { total, description, product } = style.practice!;
  const masses = heats.map((_, index) => 1130 + 47 * index);
  return [
    header(content),
    table([
      ["Item", description, words.heat, words.plate, words.weight],
      ...heats.map((heat, index): Drawn[] => [
        String(index + 1),
        product,
        heatCell(heat),
        heat.plate,
        String(masses[index]!),
      ]),
      [total, "", "", String(heats.length), String(masses.reduce((sum, mass) => sum + mass, 0))],
    ]),
    text(words.chemistry),
    table([
      ["Item", words.heat, ...symbolsOf(content).map((element) => `${element} %`), words.weight],
      ...heats.map((heat, index): Drawn[] => [
        String(index + 1),
        heatCell(heat),
        ...chemistryCells(heat, style),
        String(masses[index]!),
      ]),
      [total, "", ...symbolsOf(content).map(() => ""), String(masses.reduce((sum, mass) => sum + mass, 0))],
    ]),
  ];
}

function wrapped(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const { description, product } = style.practice!;
  const rows = heats.map((heat): Drawn[] => [
    product,
    heatCell(heat),
    ...chemistryCells(heat, style).slice(0, 5),
    ...tensileCells(heat, heat.tensile[0]!, style),
  ]);
  const elements = symbolsOf(content).slice(0, 5);
  return [
    header(content),
    table([
      [description, words.heat, ...elements.map((element) => `${element} %`), ...tensileTitles(content)],
      ...rows,
    ]),
  ];
}

function linesOfText(content: Content): Part[] {
  const { style, heats } = content;
  const { words } = style;
  return [
    text(`${words.certificate} ${content.number}`),
    ...heats.flatMap((heat): Part[] => {
      const chemistry = heat.chemistry.map(([element, value]) => `${element} ${print(value, style)}`).join(", ");
      const piece = heat.tensile[0]!;
      const strengths = piece.strengths
        .map(([quantity, mpa]) => `${quantity} = ${print(stressText(mpa, style), style)} ${style.stress}`)
        .join("; ");
      return [
        text(cell(`${words.heat} ${heat.name}`, { heat: heat.name })),
        text(
          cell(`${words.chemistry} (%): ${chemistry}`, {
            truths: chemistryCells(heat, style).flatMap(({ truths }) => truths),
          }),
        ),
        text(
          cell(strengths, {
            truths: tensileCells(heat, piece, style)
              .slice(0, -1)
              .flatMap((one) => unsaid(one, "set").truths),
          }),
        ),
      ];
    }),
  ];
}

function markedValues(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const { outsideScope, misprint } = style.practice!;
  const mark = random.pick(["*", "1)", " *", "**", "a)"]);
  const rows = heats.map((heat, index): Drawn[] => [
    heatCell(heat),
    ...chemistryCells(heat, style).map((one, at): Cell => {
      if (at !== (index + 1) % 4) return one;
      return {
        ...one,
        text: `${one.text}${mark}`,
        truths: one.truths.map((truth) => ({ ...truth, isDoubtful: true })),
      };
    }),
  ]);
  return [
    header(content),
    text(`${words.chemistry} %`),
    table([[words.heat, ...symbolsOf(content)], ...rows]),
    text(`${mark.trim()} ${random.pick([outsideScope, misprint])}`),
  ];
}

/** Nobody measured those. */
function typicalRow(content: Content): Part[] {
  const { style, heats } = content;
  const { words, practice } = style;
  const typical = heats[0]!.chemistry.map(([, value]) => print(value, style));
  const rows = heats.flatMap((heat, index): Drawn[][] => [
    ...(index === 1 ? [[practice!.typical, ...typical]] : []),
    [heatCell(heat), ...chemistryCells(heat, style)],
  ]);
  return [header(content), table([[words.heat, ...symbolsOf(content).map((element) => `${element} %`)], ...rows])];
}

/** Of metal that is not delivered: right of a reading there would only be that it is not sure. */
function earlierDeliveries(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words, practice } = style;
  const titles = [words.heat, ...symbolsOf(content).map((element) => `${element} %`)];
  const others = [1, 2].map((count): Heat => ({ ...heats[0]!, name: `9${random.between(1000, 9999)}${count}` }));
  return [
    header(content),
    table([titles, ...heats.map((heat) => [heatCell(heat), ...chemistryCells(heat, style)])]),
    text(practice!.otherDeliveries),
    table([
      titles,
      ...others.map((heat) => [
        heatCell(heat),
        ...chemistryCells(heat, style).map(
          (one): Cell => ({ ...one, truths: one.truths.map((truth) => ({ ...truth, isDoubtful: true })) }),
        ),
      ]),
    ]),
  ];
}

function preliminary(content: Content): Part[] {
  const { style, heats } = content;
  const { words, practice } = style;
  return [
    text(practice!.preliminary),
    header(content),
    text(words.tensile),
    table([
      [words.heat, words.specimen, ...tensileTitles(content)],
      ...heats.flatMap((heat) =>
        heat.tensile.map((piece) => [heatCell(heat), piece.name, ...tensileCells(heat, piece, style)]),
      ),
    ]),
  ];
}

function remarks(content: Content, random: Random): Part[] {
  const { style, heats } = content;
  const { words } = style;
  const set = (heat: Heat) => heat.impact[0]!;
  const rows = heats.map((heat): Drawn[] => [
    heatCell(heat),
    heat.plate,
    ...tensileCells(heat, heat.tensile[0]!, style),
    ...[...energyCells(heat, set(heat)), averageCell(heat, set(heat))].map((one) => unsaid(one, "zone")),
    random.pick(["UT EN 10160 S1 E1, 100 %", "PMI OK 3/3", "EN 10204:2004 3.1, 2 x 6000 mm"]),
  ]);
  return [
    header(content),
    table([
      [
        words.heat,
        words.plate,
        ...tensileTitles(content),
        ...[1, 2, 3].map((piece) => `KV ${piece} -196 °C [J]`),
        `${words.average} -196 °C [J]`,
        words.remarks,
      ],
      ...rows,
    ]),
  ];
}
