import type { Grid } from "./grid.js";
import type { Pick } from "./mutate.js";

export interface Generated {
  readonly grids: readonly Grid[];
  /** The heats that do not meet 304L, by what is wrong with them. */
  readonly bad: ReadonlyMap<string, string>;
}

const ELEMENTS = ["C", "Si", "Mn", "P", "S", "Cr", "Ni", "N"] as const;
const GOOD = ["0.021", "0.41", "1.52", "0.031", "0.002", "18.12", "8.05", "0.061"];
const TENSILE = ["Rp0.2", "Rm", "A50"] as const;
const STRONG = ["285.5", "612.5", "54.5"];

/** Each just outside ASTM A240 for S30403. */
const FAULTS: Readonly<Record<string, string>> = {
  C: "0.034",
  Mn: "2.06",
  P: "0.048",
  S: "0.036",
  Cr: "17.31",
  Ni: "7.78",
  "Rp0.2": "161.5",
  Rm: "471.5",
  A50: "36.5",
};

/** A certificate of three heats of 304L of which one or two are not: chemistry with limits, tensile; one or two sheets. */
export function generate(pick: Pick): Generated {
  const heats = ["T4471", "T4472", "T4483"];
  const bad = new Map<string, string>();
  const rows = heats.map((heat, index) => {
    const wrong = index === 0 || pick([true, false, false]) ? pick(Object.keys(FAULTS))! : undefined;
    if (wrong !== undefined) bad.set(heat, wrong);
    const value = (names: readonly string[], good: readonly string[]) =>
      names.map((name, at) => (name === wrong ? FAULTS[name]! : varied(good[at]!, index)));
    return { heat, chemistry: value(ELEMENTS, GOOD), tensile: value(TENSILE, STRONG) };
  });
  const inTitle = pick([true, false])!;
  const units = (names: readonly string[], of: (name: string) => string) =>
    names.map((name) => (inTitle ? `${name} ${of(name)}` : name));
  const unitRow = (names: readonly string[], of: (name: string) => string) =>
    inTitle ? [] : [["", ...names.map((name) => of(name))]];
  const limits = pick([true, false])
    ? [["max.", "0.030", "0.75", "2.00", "0.045", "0.030", "19.5", "12.0", "0.10"]]
    : [];
  const head = [
    ["Ostmark Rolling"],
    ["Inspection certificate 3.1, EN 10204"],
    ["Product", "plate", "", "Thickness", "10 mm"],
    ["Material", "ASTM A240/A240M S30403"],
    [],
  ];
  const percent = () => "%";
  const chemistry = [
    ["Heat", ...units(ELEMENTS, percent)],
    ...unitRow(ELEMENTS, percent),
    ...limits,
    ...rows.map(({ heat, chemistry }) => [heat, ...chemistry]),
    [],
  ];
  const unitOf = (name: string) => (name === "A50" ? "%" : "MPa");
  const tensile = [
    ["Heat", ...units(TENSILE, unitOf)],
    ...unitRow(TENSILE, unitOf),
    ...rows.map(({ heat, tensile }) => [heat, ...tensile]),
  ];
  const together = pick([true, false]);
  return {
    grids: together
      ? [[...head, ...chemistry, ...tensile]]
      : [
          [...head, ...chemistry],
          [...head, ...tensile],
        ],
    bad,
  };
}

/** Heats differ a little; the last digit moves. */
function varied(text: string, index: number): string {
  return text.slice(0, -1) + ((Number(text.at(-1)) + index) % 10 || 1);
}
