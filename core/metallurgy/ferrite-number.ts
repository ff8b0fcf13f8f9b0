import { type Decimal, toNumber } from "../quantity/decimal.js";
import type { Interval } from "../quantity/interval.js";
import type { Chemistry } from "./chemistry.js";
import { CREQ_WRC_1992, NIEQ_WRC_1992 } from "./chromium-nickel-equivalents.js";
import { ferriteByFit, ferriteByNetwork, ferriteByStraightPieces, WRC_1992_AXES } from "./ferrite-routes.js";
import type { Formula, FormulaResult, FormulaValue } from "./formula.js";
import { fromNumber } from "./from-number.js";
import { missingFrom } from "./linear.js";

const NEEDS = ["C", "Cr", "Ni", "N"] as const;

/**
 * Ferrite Number of weld metal by WRC-1992, from the fit, with the other two routes as witnesses.
 * `low` and `high` carry the spread, so that a limit inside it stays undecided; a measured FN always goes before this.
 */
export const FN_WRC_1992: Formula = {
  name: "FN (WRC-1992)",
  aliases: ["FN", "FN (WRC92)", "FN (WRC 1992)"],
  quantity: "FN",
  unit: "1",
  needs: NEEDS,
  optional: ["Mo", "Nb", "Cu"],
  expression: "WRC-1992 diagram at Creq = Cr + Mo + 0.7 Nb, Nieq = Ni + 35 C + 20 N + 0.25 Cu",
  source: "third-party fit to the digitised diagram; FNN-1999 and a three-piece linear formula as witnesses",
  known: { how: "seen", sources: 1 },
  validity: [],
  reportPlaces: 1,
  advisory: "computed FN scatters by about 2 below 10 FN; a measured FN goes before it",
  compute: computeFerriteNumber,
};

function computeFerriteNumber(chemistry: Chemistry): FormulaResult {
  const missing = missingFrom(chemistry, NEEDS);
  if (missing.length > 0) return { kind: "missing", missing, ...mostFerrite(chemistry) };
  const creq = CREQ_WRC_1992.compute(chemistry) as FormulaValue;
  const nieq = NIEQ_WRC_1992.compute(chemistry) as FormulaValue;
  const fit = ferriteByFit(toNumber(creq.value), toNumber(nieq.value));
  if (fit === undefined || fit > MOST_FERRITE) return { kind: "outside-range", because: describeOutside(creq, nieq) };

  const witnesses = witnessesOf(chemistry);
  const spread = spreadOf(fit, witnesses);
  const ends = ferriteEnds(creq, nieq, spread);
  return {
    kind: "value",
    value: fromNumber(fit, 1),
    ...ends,
    notReported: [...new Set([...creq.notReported, ...nieq.notReported])],
    bounded: [...new Set([...creq.bounded, ...nieq.bounded])],
    cautions: [
      `routes differ: ${[fit, ...witnesses].map((fn) => fn.toFixed(1)).join(", ")} FN`,
      ...(fit < LEAST_FERRITE ? ["the fit was made to lines from 2 FN upwards"] : []),
    ],
  };
}

const LEAST_FERRITE = 2;
const MOST_FERRITE = 100;
/** The routes differ by about 2 FN below 10 FN. Above that a share is our own choice: no source gives one. */
const LEAST_SPREAD = 2;
const SPREAD_SHARE = 0.2;

function witnessesOf(chemistry: Chemistry): readonly number[] {
  return [ferriteByNetwork(chemistry), ferriteByStraightPieces(chemistry)].filter((fn) => fn !== undefined);
}

function spreadOf(fit: number, witnesses: readonly number[]): number {
  return Math.max(...witnesses.map((witness) => Math.abs(witness - fit)), LEAST_SPREAD, fit * SPREAD_SHARE);
}

/** Carbon, nickel and nitrogen only lower the ferrite, so what it is without those that are missing is the most that it can be. */
function mostFerrite(chemistry: Chemistry): Interval {
  const [creq, nieq] = [CREQ_WRC_1992, NIEQ_WRC_1992].map((equivalent) => equivalent.compute(chemistry));
  if (creq?.kind === "outside-range" || nieq?.kind === "outside-range") return {};
  const highest = ferriteAt(creq?.high, nieq?.low);
  if (highest === undefined) return {};
  return { high: fromNumber(highest + spreadOf(highest, witnessesOf(chemistry)), 2) };
}

/** Ferrite rises with chromium and falls with nickel equivalent. It is never below zero; an upper end outside the axes stays open. */
function ferriteEnds(creq: Interval, nieq: Interval, spread: number): Interval {
  const lowest = ferriteAt(creq.low, nieq.high);
  const highest = ferriteAt(creq.high, nieq.low);
  return {
    low: fromNumber(Math.max(0, (lowest ?? 0) - spread), 2),
    ...(highest !== undefined && { high: fromNumber(highest + spread, 2) }),
  };
}

function ferriteAt(creq: Decimal | undefined, nieq: Decimal | undefined): number | undefined {
  return creq && nieq ? ferriteByFit(toNumber(creq), toNumber(nieq)) : undefined;
}

function describeOutside(creq: FormulaValue, nieq: FormulaValue): string {
  const { creq: x, nieq: y } = WRC_1992_AXES;
  const at = `Creq ${toNumber(creq.value).toFixed(2)}, Nieq ${toNumber(nieq.value).toFixed(2)}`;
  return `${at} is outside the WRC-1992 diagram (Creq ${x.from} to ${x.to}, Nieq ${y.from} to ${y.to}, up to 100 FN)`;
}
