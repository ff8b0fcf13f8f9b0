import { describe, expect, test } from "vitest";
import type { Cell } from "../../../../core/recogniser/cells.js";
import { readGrid } from "../../../../core/reduction/reading/grid.js";
import { readHeaderLines, splitUnit } from "../../../../core/reduction/reading/header-lines.js";
import { numberStyle, readNumber } from "../../../../core/reduction/reading/number-style.js";
import { unitFactor } from "../../../../core/reduction/reading/spelled-unit.js";
import { columnKind } from "../../../../core/reduction/tensile/column-names.js";
import { tableOf } from "../../../reference/table-of.js";

const cells = (...texts: string[]): Cell[] =>
  texts.map((text, row) => ({ row, column: 0, text, place: { line: row + 1, column: 1 }, confidence: 1 }));

describe("decimal mark", () => {
  test.each([
    [["0,123", "1,5"], ",", false],
    [["1.5", "2.25"], ".", false],
    [["1.234,5"], ",", false],
    [["1,234.5", "2.25"], ".", false],
    [["12", "13"], ".", false],
    [["1,234", "2,345"], ",", true], // both meanings are possible: said, not guessed in silence
  ] as const)("%j", (texts, decimalMark, markUncertain) => {
    expect(numberStyle(cells(...texts))).toEqual({ decimalMark, markUncertain });
  });
});

describe("numbers", () => {
  test.each([
    ["0,25459", ",", 0.25459],
    ["-0,00008", ",", -0.00008],
    ["−196", ".", -196],
    ["1.234,5", ",", 1234.5],
    ["1,234.5", ".", 1234.5],
    ["1e-3", ".", 0.001],
    ["12.", ".", 12],
    ["", ".", Number.NaN],
    ["abc1", ".", Number.NaN],
    ["0x10", ".", Number.NaN],
    ["1,2,3", ".", Number.NaN],
    ["10 MPa", ".", Number.NaN],
    ["Infinity", ".", Number.NaN],
  ] as const)("%s with decimal %s is %s", (text, mark, value) => {
    expect(readNumber(text, mark)).toBe(value);
  });
});

describe("units as laboratories spell them", () => {
  test.each([
    ["(kN)", "force", 1000],
    ["[N]", "force", 1],
    ["kip", "force", 4448.2216152605],
    ["N/mm²", "stress", 1],
    ["N/mm^2", "stress", 1],
    ["ksi", "stress", 6.894757293168],
    ["mm^2", "area", 1],
    ["µm", "length", 0.001],
    ["(%)", "strain", 0.01],
    ["mm/mm", "strain", 1],
    ["µm/m", "strain", 1e-6],
    ["(sec)", "time", 1],
    ["ft-lbf", "energy", 1.3558179483314],
    ["Cel", "temperature", 1],
  ] as const)("%s is a unit of %s", (text, dimension, factor) => {
    expect(unitFactor(text, dimension)).toBeCloseTo(factor, 9);
  });
  test("a unit of something else is none", () => {
    expect(unitFactor("mm", "force")).toBeUndefined();
    expect(unitFactor("constructor", "force")).toBeUndefined();
    expect(unitFactor("", "strain")).toBeUndefined();
  });
});

describe("names with units", () => {
  test.each([
    ["Force [kN]", "Force", "kN"],
    ["Kraft / kN", "Kraft", "kN"],
    ["Kraft/kN", "Kraft", "kN"],
    ["Load in N", "Load", "N"],
    ["Stress (MPa)", "Stress", "MPa"],
    ["Force, kN", "Force", "kN"],
    ["Dehnung %", "Dehnung", "%"],
    ["Tensile strain (Strain 1)", "Tensile strain (Strain 1)", ""],
    ["Rise angle", "Rise angle", ""],
  ])("%s", (text, name, unit) => expect(splitUnit(text)).toEqual({ name, unit }));
});

describe("header lines", () => {
  const read = (text: string, delimiter = ";") => {
    const grid = readGrid(tableOf(text, delimiter));
    return readHeaderLines(grid, grid.rowStarts.length - 1).map(({ name, value, unit }) => [name, value, unit]);
  };
  test("name, value, unit in cells of their own", () => {
    expect(read("Width;12.5;mm\nHeat;H1")).toEqual([
      ["width", "12.5", "mm"],
      ["heat", "H1", ""],
    ]);
  });
  test("a prefix before the name, as machines write it", () => {
    expect(read("Specimen properties : Width,11.7,mm", ",")).toEqual([["width", "11.7", "mm"]]);
  });
  test("all in one cell, with colon or equals sign", () => {
    expect(read("Breite: 12,5 mm\nd0 = 10 mm")).toEqual([
      ["breite", "12,5", "mm"],
      ["d0", "10", "mm"],
    ]);
  });
  test("the unit in the name, and several pairs in a row", () => {
    expect(read("Width [mm];12.5;Thickness [mm];3")).toEqual([
      ["width", "12.5", "mm"],
      ["thickness", "3", "mm"],
    ]);
  });
});

describe("what a column of a tensile record holds, by its heading", () => {
  const headings: readonly (readonly [heading: string, kind: ReturnType<typeof columnKind>])[] = [
    ["Extension", "extension"],
    ["Extensión", "extension"],
    ["Estensione", "extension"],
    ["Tensione", "stress"],
    ["Tensión", "stress"],
    ["Contrainte", "stress"],
    ["Temps", "time"],
    ["Tempo", "time"],
    ["Tiempo", "time"],
    ["Temperature", undefined],
    ["Température", undefined],
    ["True strain", undefined],
    ["Déformation vraie", undefined],
    ["Deformazione trasversale", undefined],
    ["Force", "force"],
    ["Forza", "force"],
    ["Fuerza", "force"],
    ["Déplacement de la traverse", "crosshead"],
    ["Corsa", "crosshead"],
    ["Allongement", "extension"],
    ["Alargamiento", "extension"],
    ["Deformación", "strain"],
  ];
  test.each(headings)("%s: %s", (heading, kind) => expect(columnKind(heading)).toBe(kind));
});
