import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Reading } from "../../../core/certificate/certificate.js";
import type { Quantity } from "../../../core/quantity/quantity.js";
import { requirementSchema } from "../../../core/requirement/requirement.js";
import { OUTCOMES } from "../../../core/verdict/finding.js";
import { judgeHeat } from "../../../core/verdict/judge-heat.js";
import { heatOf, impactSet, reading } from "../../support/heat.js";

/** Impact by a rule with a retest, an index that rises and one that falls with what it is computed from, and a measured one. */
const REQUIREMENT = requirementSchema.parse({
  requirement: 1,
  name: "T-204 weld metal",
  limits: [
    { quantity: "PREN", min: "20.0", unit: "1" },
    { quantity: "CE", max: "8.00", unit: "1" },
    { quantity: "G", min: "5", unit: "1" },
    { quantity: "Rm", min: "485", unit: "MPa" },
  ],
  impact: [{ zone: "base", temperature: "-196 °C", average: "60 J", rule: "ASME VIII" }],
});

function judge(readings: readonly Reading[]) {
  const { judgements } = judgeHeat({
    heat: heatOf(readings, { claims: [] }),
    certificates: [],
    doubts: [],
    requirement: REQUIREMENT,
    library: { grades: [], tolerances: [] },
  });
  return judgements.filter(({ reason }) => reason !== "contradiction");
}

/** The worst of what is said of one limit; -1 where nothing is. Smaller is worse, as in OUTCOMES. */
function worstOf(readings: readonly Reading[], limit: string): number {
  const outcomes = judge(readings)
    .filter((judgement) => judgement.limit?.id.startsWith(limit))
    .map(({ outcome }) => OUTCOMES.indexOf(outcome));
  return outcomes.length === 0 ? -1 : Math.min(...outcomes);
}

const tenths = (min: number, max: number) => fc.integer({ min, max }).map((value) => (value / 10).toFixed(1));
const hundredths = (min: number, max: number) => fc.integer({ min, max }).map((value) => (value / 100).toFixed(2));
const isLess = (left: string, right: string) => Number(left) < Number(right);

const chemistry = fc.record({
  Cr: hundredths(1700, 1950),
  Mo: hundredths(0, 60),
  N: hundredths(2, 12),
  C: hundredths(1, 8),
  Mn: hundredths(50, 200),
  V: hundredths(0, 10),
  Ni: hundredths(700, 1000),
  Cu: hundredths(0, 50),
});
const asReadings = (values: Readonly<Record<string, string>>, more: Partial<Reading> = {}) =>
  Object.entries(values).map(([quantity, text]) => reading(quantity as Quantity, text, more));

describe("computed quantities", () => {
  it("are monotone: more of what counts never worsens a minimum, nor improves a maximum", () => {
    fc.assert(
      fc.property(chemistry, fc.constantFrom("Cr", "Mo", "N"), hundredths(1, 100), (values, element, added) => {
        const more = { ...values, [element]: (Number(values[element]) + Number(added)).toFixed(2) };
        expect(worstOf(asReadings(more), "requirement#limits/0")).toBeGreaterThanOrEqual(
          worstOf(asReadings(values), "requirement#limits/0"),
        );
        expect(worstOf(asReadings(more), "requirement#limits/1")).toBeLessThanOrEqual(
          worstOf(asReadings(values), "requirement#limits/1"),
        );
      }),
      { numRuns: 200 },
    );
  });

  it("do not depend on the order of rows, and two determinations pass only where each of them does", () => {
    fc.assert(
      fc.property(
        chemistry,
        chemistry,
        fc.constantFrom("heat" as const, "product" as const),
        fc.infiniteStream(fc.nat()),
        (one, other, analysis, random) => {
          const [first, second] = [asReadings(one, { analysis }), asReadings(other, { analysis })];
          const shuffled = [...first, ...second].map((row) => ({ row, at: random.next().value }));
          const turned = shuffled.sort((left, right) => left.at - right.at).map(({ row }) => row);
          for (const limit of ["requirement#limits/0", "requirement#limits/1"]) {
            const both = worstOf([...first, ...second], limit);
            expect(worstOf(turned, limit)).toBe(both);
            // Of two that fail nothing worse is said than that they cannot be told apart element by element.
            const worst = Math.min(worstOf(first, limit), worstOf(second, limit));
            expect(both).toBeLessThanOrEqual(Math.max(worst, OUTCOMES.indexOf("undetermined")));
          }
        },
      ),
      { numRuns: 100 },
    );
  });

  it("are never improved by one more reading of an element that is worse for the limit", () => {
    fc.assert(
      fc.property(chemistry, hundredths(1, 100), (values, less) => {
        const rows = asReadings(values);
        const lower = reading("Cr", (Number(values.Cr) - Number(less)).toFixed(2));
        const higher = reading("Cr", (Number(values.Cr) + Number(less)).toFixed(2));
        const [pren, ce] = ["requirement#limits/0", "requirement#limits/1"];
        expect(worstOf([...rows, lower], pren!)).toBeLessThanOrEqual(worstOf(rows, pren!));
        expect(worstOf([...rows, higher], ce!)).toBeLessThanOrEqual(worstOf(rows, ce!));
      }),
      { numRuns: 200 },
    );
  });
});

const energies = fc.array(tenths(300, 900), { minLength: 3, maxLength: 3 });

describe("impact sets", () => {
  const LIMIT = "requirement#impact/0";

  it("are monotone in every piece", () => {
    fc.assert(
      fc.property(energies, fc.nat({ max: 2 }), tenths(300, 900), (singles, at, other) => {
        const changed = singles.map((single, index) => (index === at ? other : single));
        const [worse, better] = isLess(other, singles[at]!) ? [changed, singles] : [singles, changed];
        expect(worstOf(impactSet(worse), LIMIT)).toBeLessThanOrEqual(worstOf(impactSet(better), LIMIT));
      }),
      { numRuns: 200 },
    );
  });

  it("do not depend on the order of rows, retests included", () => {
    fc.assert(
      fc.property(energies, energies, fc.option(energies), fc.infiniteStream(fc.nat()), (one, two, again, random) => {
        const rows = [
          ...impactSet(one, { test: "1" }),
          ...impactSet(two, { test: "2" }),
          ...(again ? impactSet(again, { test: "3", retest: true }) : []),
        ];
        const shuffled = rows.map((row) => ({ row, at: random.next().value })).sort((a, b) => a.at - b.at);
        expect(
          worstOf(
            shuffled.map(({ row }) => row),
            LIMIT,
          ),
        ).toBe(worstOf(rows, LIMIT));
      }),
      { numRuns: 200 },
    );
  });

  it("are never improved by another set, by a fourth piece, or by a retest that is worse in every piece", () => {
    fc.assert(
      fc.property(energies, energies, tenths(300, 900), (one, two, piece) => {
        const alone = worstOf(impactSet(one), LIMIT);
        expect(worstOf([...impactSet(one), ...impactSet(two, { test: "2" })], LIMIT)).toBeLessThanOrEqual(alone);
        // A piece too many leaves open which of them count; a worse one than all others saves nothing.
        expect(worstOf(impactSet([...one, piece]), LIMIT)).not.toBe(OUTCOMES.indexOf("pass"));
        const least = one.reduce((left, right) => (isLess(left, right) ? left : right));
        if (isLess(piece, least)) expect(worstOf(impactSet([...one, piece]), LIMIT)).toBeLessThanOrEqual(alone);
        const worse = one.map((single) => (Number(single) - 5).toFixed(1));
        const retest = impactSet(worse, { test: "r", retest: true });
        // A rule whose text is not clear leaves a retest to a person, whatever it gave.
        expect(worstOf([...impactSet(one), ...retest], LIMIT)).toBeLessThanOrEqual(
          Math.max(alone, OUTCOMES.indexOf("undetermined")),
        );
      }),
      { numRuns: 200 },
    );
  });
});

describe("tensile tests", () => {
  it("are monotone and never improved by a worse one, a retest included", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 470, max: 500 }),
        fc.integer({ min: 0, max: 20 }),
        fc.boolean(),
        (value, less, retest) => {
          const first = reading("Rm", String(value));
          const worse = reading("Rm", String(value - less));
          const limit = "requirement#limits/3";
          expect(worstOf([worse], limit)).toBeLessThanOrEqual(worstOf([first], limit));
          expect(worstOf([first, { ...worse, retest }], limit)).toBeLessThanOrEqual(worstOf([first], limit));
        },
      ),
      { numRuns: 200 },
    );
  });
});
