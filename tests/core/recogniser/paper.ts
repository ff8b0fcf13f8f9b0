import fc from "fast-check";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

/** A paper as rows of cells, and the lines that a faultless reading of it tells. */
export interface Paper {
  readonly title: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly truth: readonly string[];
}

const decimals = (low: number, high: number, places: number) =>
  fc.integer({ min: low, max: high }).map((digits) => (digits / 10 ** places).toFixed(places));

const CHEMISTRY = {
  C: decimals(8, 80, 3),
  Si: decimals(20, 90, 2),
  Mn: decimals(80, 190, 2),
  P: decimals(10, 45, 3),
  S: decimals(1, 15, 3),
  Cr: decimals(1650, 1950, 2),
  Ni: decimals(700, 1200, 2),
} as const;

/** Chemistry and tensile results of a few heats in one table, in any order of columns. */
export const papers: fc.Arbitrary<Paper> = fc
  .record({
    columns: fc.shuffledSubarray([...Object.keys(CHEMISTRY), "Rm", "Rp0.2"], { minLength: 4 }),
    heats: fc.uniqueArray(fc.stringMatching(/^[A-Z]\d{5}$/), { minLength: 2, maxLength: 4 }),
    values: fc.array(fc.record({ ...CHEMISTRY, Rm: decimals(500, 700, 0), "Rp0.2": decimals(210, 400, 0) }), {
      minLength: 4,
      maxLength: 4,
    }),
  })
  .map(({ columns, heats, values }) => {
    const unit = (name: string) => (name.startsWith("R") ? "MPa" : "%");
    const value = (at: number, name: string) => (values[at] as Record<string, string>)[name]!;
    return {
      title: ["Heat No.", ...columns.map((name) => `${name} ${unit(name)}`)],
      rows: heats.map((heat, at) => [heat, ...columns.map((name) => value(at, name))]),
      truth: heats.flatMap((heat, at) => columns.map((name) => `${heat}: ${name} ${value(at, name)} ${unit(name)}`)),
    };
  });

export function readPaper(title: readonly string[], rows: readonly (readonly string[])[]) {
  return recognise(drawDocument([title, ...rows].map((row) => row.join(" | ")).join("\n")), 0);
}

/** What a reading says with full confidence; "?" marks the rest. */
export function saidForSure(title: readonly string[], rows: readonly (readonly string[])[]): string[] {
  return tell(readPaper(title, rows)).filter((line) => !line.endsWith("?"));
}
