import fc from "fast-check";
import { evaluate } from "mathjs";
import { describe, expect, it } from "vitest";
import type { Chemistry, Ingredient } from "../../core/metallurgy/chemistry.js";
import { FORMULAS, formula } from "../../core/metallurgy/formulas.js";
import { decimal, toNumber } from "../../core/quantity/decimal.js";

/** The formulas as a handbook prints them, typed anew: a slip in our factors or in our exact arithmetic shows as a difference. */
const EXPRESSIONS: Readonly<Record<string, string>> = {
  "CE (IIW)": "C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15",
  Pcm: "C + Si/30 + (Mn + Cu + Cr)/20 + Ni/60 + Mo/15 + V/10 + 5*B",
  CET: "C + (Mn + Mo)/10 + (Cr + Cu)/20 + Ni/40",
  CEN: "C + (0.75 + 0.25*tanh(20*(C - 0.12)))*(Si/24 + Mn/6 + Cu/15 + Ni/20 + (Cr + Mo + V + Nb)/5 + 5*B)",
  "CE (CSA Z245.1)": "C + Mn/6 + Si/24 + Cu/15 + Ni/20 + (Cr + Mo + V + Nb)/5 + 5*B",
  "PREN (16 N)": "Cr + 3.3*Mo + 16*N",
  "PREN (20 N)": "Cr + 3.3*Mo + 20*N",
  "PREN (30 N)": "Cr + 3.3*Mo + 30*N",
  "PREW (16 N)": "Cr + 3.3*(Mo + 0.5*W) + 16*N",
  "Creq (Schaeffler)": "Cr + Mo + 1.5*Si + 0.5*Nb",
  "Nieq (Schaeffler)": "Ni + 30*C + 0.5*Mn",
  "Creq (DeLong)": "Cr + Mo + 1.5*Si + 0.5*Nb",
  "Nieq (DeLong)": "Ni + 30*(C + N) + 0.5*Mn",
  "Creq (WRC-1992)": "Cr + Mo + 0.7*Nb",
  "Nieq (WRC-1992)": "Ni + 35*C + 20*N + 0.25*Cu",
  "Creq (Hammar-Svensson)": "Cr + 1.37*Mo + 1.5*Si + 2*Nb + 3*Ti",
  "Nieq (Hammar-Svensson)": "Ni + 0.31*Mn + 22*C + 14.2*N + Cu",
  "Creq/Nieq (Hammar-Svensson)": "(Cr + 1.37*Mo + 1.5*Si + 2*Nb + 3*Ti) / (Ni + 0.31*Mn + 22*C + 14.2*N + Cu)",
  "Md30 (Angel)": "413 - 462*(C + N) - 9.2*Si - 8.1*Mn - 13.7*Cr - 9.5*Ni - 18.5*Mo",
  "Md30 (Nohara)": "551 - 462*(C + N) - 9.2*Si - 8.1*Mn - 13.7*Cr - 29*(Ni + Cu) - 18.5*Mo - 68*Nb - 1.42*(G - 8)",
  "Md30 (Nohara, G 8)": "551 - 462*(C + N) - 9.2*Si - 8.1*Mn - 13.7*Cr - 29*(Ni + Cu) - 18.5*Mo - 68*Nb",
  "Ms (Eichelmann-Hull)": "1305 - 1665*(C + N) - 28*Si - 33*Mn - 42*Cr - 61*Ni",
  "Ms (Andrews)": "539 - 423*C - 30.4*Mn - 17.7*Ni - 12.1*Cr - 7.5*Mo - 7.5*Si",
  "SFE (Schramm-Reed)": "-53 + 6.2*Ni + 0.7*Cr + 3.2*Mn + 9.3*Mo",
  "Mn/S": "Mn/S",
  "Ti/(C+N)": "Ti/(C + N)",
  "Ti/C": "Ti/C",
  "Nb/C": "Nb/C",
  "Ti - 3.42 N - 4 C": "Ti - 3.42*N - 4*C",
  "Nb - 7.75 C": "Nb - 7.75*C",
};

// biome-ignore format: one list
const INGREDIENTS: readonly Ingredient[] = [
  "C", "Si", "Mn", "S", "Cr", "Ni", "Mo", "N", "Cu", "Nb", "Ti", "V", "W", "B", "G",
];

describe("formulas against mathjs", () => {
  it.each(Object.entries(EXPRESSIONS))("%s = %s", (name, expression) => {
    expectSame(name, (scope) => evaluate(expression, scope));
  });

  // The notation that reports show must be the formula that was computed. mathjs reads "9.2 Si" as a product, as people do.
  it.each(FORMULAS.filter(({ name }) => name in EXPRESSIONS).map(({ name, expression }) => [name, expression]))(
    "%s is what it says it is: %s",
    (name, expression) => {
      const [main, where] = expression.split(", ");
      expectSame(name, (scope) => {
        if (where !== undefined) evaluate(where, scope);
        return evaluate(main!.replace(/\b([AF]) \(/g, "$1 * ("), scope); // "A (" would be a call
      });
    },
  );

  it("leaves only the Ferrite Number, which is a diagram", () => {
    expect(FORMULAS.filter(({ name }) => !(name in EXPRESSIONS)).every(({ quantity }) => quantity === "FN")).toBe(true);
  });
});

function expectSame(name: string, theirs: (scope: Record<string, number>) => number): void {
  const content = fc.integer({ min: 1, max: 25000 });
  fc.assert(
    fc.property(fc.tuple(...INGREDIENTS.map(() => content)), (thousandths) => {
      const texts = thousandths.map((number) => (number / 1000).toFixed(3));
      const chemistry: Chemistry = new Map(INGREDIENTS.map((of, index) => [of, { value: decimal(texts[index]!) }]));
      const expected = theirs(
        Object.fromEntries(INGREDIENTS.map((of, index) => [of, Number.parseFloat(texts[index]!)])),
      );
      const result = formula(name)!.compute(chemistry);
      if (result.kind !== "value") throw new Error(JSON.stringify(result));
      for (const end of [result.value, result.low!, result.high!]) {
        expect(Math.abs(toNumber(end) - expected)).toBeLessThan(1e-6 + Math.abs(expected) * 1e-9);
      }
    }),
    { numRuns: 30 },
  );
}
