import { expect } from "vitest";
import type { Chemistry, Ingredient } from "../../core/metallurgy/chemistry.js";
import { CREQ_WRC_1992, NIEQ_WRC_1992 } from "../../core/metallurgy/chromium-nickel-equivalents.js";
import { ferriteByFit, ferriteByNetwork, ferriteByStraightPieces } from "../../core/metallurgy/ferrite-routes.js";
import type { Formula } from "../../core/metallurgy/formula.js";
import { formula } from "../../core/metallurgy/formulas.js";
import { grainSizeNumber } from "../../core/metallurgy/grain-size.js";
import { preheatC } from "../../core/metallurgy/preheat.js";
import { compare, decimal, formatDecimal, shift, toNumber } from "../../core/quantity/decimal.js";
import { measureIn } from "../../core/quantity/measure.js";
import { isElement } from "../../core/quantity/quantity.js";
import {
  checkCases,
  decimalOf,
  expectNumbers,
  measureOf,
  numberOf,
  type ReferenceCase,
  textOf,
} from "./reference-cases.js";

checkCases("chemistry", (reference) => {
  const check = CHECKS.find(([start]) => reference.id.startsWith(start));
  if (!check) throw new Error(`no check for ${reference.id}`);
  check[1](reference);
});

const CHECKS: readonly (readonly [start: string, check: (reference: ReferenceCase) => void])[] = [
  ["CH-CSA", (reference) => checkFormulas(reference)],
  ["CH-CE", (reference) => checkFormulas(reference)],
  ["CH-IDX", (reference) => checkFormulas(reference)],
  ["CH-MS", (reference) => checkFormulas(reference)],
  ["CH-PREW", (reference) => checkFormulas(reference)],
  ["CH-FN", checkFerrite],
  ["CH-GS", (reference) => expectNumbers(reference, { G: grainSizeNumber(numberOf(textOf(reference.given, "d"))) })],
  ["CH-STAB", checkStabilisation],
  ["CH-PREHEAT", checkPreheat],
  [
    "CH-PPM",
    (reference) => expectNumbers(reference, { x: toNumber(measureIn(measureOf(textOf(reference.given, "x")), "%")!) }),
  ],
  ["CH-MULT", checkMultiplier],
];

/** What a case calls a result, and our formula for it. */
const FORMULA_NAMES: Readonly<Record<string, string>> = {
  CE: "CE (CSA Z245.1)",
  CE_IIW: "CE (IIW)",
  Pcm: "Pcm",
  CET: "CET",
  CEN: "CEN",
  PREN: "PREN (16 N)",
  PREW: "PREW (16 N)",
  Md30_Angel: "Md30 (Angel)",
  Md30_Nohara_GS8: "Md30 (Nohara, G 8)",
  Ms: "Ms (Andrews)",
  Ms_EichelmannHull: "Ms (Eichelmann-Hull)",
  SFE_SchrammReed: "SFE (Schramm-Reed)",
  Creq_Schaeffler: "Creq (Schaeffler)",
  Nieq_Schaeffler: "Nieq (Schaeffler)",
  Nieq_DeLong: "Nieq (DeLong)",
  Creq_WRC92: "Creq (WRC-1992)",
  Nieq_WRC92: "Nieq (WRC-1992)",
  Creq_HammarSvensson: "Creq (Hammar-Svensson)",
  Nieq_HammarSvensson: "Nieq (Hammar-Svensson)",
  HS_ratio: "Creq/Nieq (Hammar-Svensson)",
};

function checkFormulas(reference: ReferenceCase): void {
  const chemistry = chemistryOf(reference);
  const results = Object.keys(reference.expect).map((name) => {
    const result = named(FORMULA_NAMES[name]!).compute(withZeros(chemistry, named(FORMULA_NAMES[name]!)));
    if (result.kind !== "value") throw new Error(`${name}: ${JSON.stringify(result)}`);
    if (reference.id === "CH-CE-3") expect(result.cautions, "nickel steel is outside").not.toEqual([]);
    return [name, toNumber(result.value)] as const;
  });
  expectNumbers(reference, Object.fromEntries(results));
}

function named(name: string): Formula {
  return formula(name)!;
}

function chemistryOf(reference: ReferenceCase): Chemistry {
  const elements = Object.keys(reference.given).filter(isElement);
  return new Map(elements.map((element) => [element, { value: decimalOf(textOf(reference.given, element)) }]));
}

/** The cases leave out elements that are absent from their invented compositions; a formula wants them said. */
function withZeros(chemistry: Chemistry, { needs }: Formula): Chemistry {
  const zeros = needs.map((ingredient): [Ingredient, { value: ReturnType<typeof decimal> }] => [
    ingredient,
    { value: decimal("0") },
  ]);
  return new Map([...zeros, ...chemistry]);
}

/** A regression test of coefficients taken over, not evidence that any of the routes is right. */
function checkFerrite(reference: ReferenceCase): void {
  const chemistry = chemistryOf(reference);
  const [creq, nieq] = [CREQ_WRC_1992, NIEQ_WRC_1992].map((equivalent) => {
    const result = equivalent.compute(chemistry);
    return result.kind === "value" ? toNumber(result.value) : Number.NaN;
  });
  expectNumbers(reference, {
    FN_FNN1999: ferriteByNetwork(chemistry),
    FN_WRC_fit: ferriteByFit(creq!, nieq!),
    FN_linear3: ferriteByStraightPieces(chemistry),
  });
}

/** A240 compares Ti with 5 (C + N), and Nb with 10 C; the ratio formulas say the same. */
function checkStabilisation(reference: ReferenceCase): void {
  const [name, ratio] = reference.id === "CH-STAB-1" ? (["Ti/(C+N)", "5"] as const) : (["Nb/C", "10"] as const);
  const result = named(name).compute(chemistryOf(reference));
  if (result.kind !== "value") throw new Error("expected a value");
  expect(compare(result.value, decimal(ratio)) >= 0).toBe(reference.expect.conforms);
}

function checkPreheat(reference: ReferenceCase): void {
  const given = (name: string) => numberOf(textOf(reference.given, name));
  const conditions = {
    cet: given("CET"),
    plateThicknessMm: given("d"),
    hydrogenMlPer100g: given("HD"),
    heatInputKJPerMm: given("Q"),
  };
  expectNumbers(reference, { Tp: preheatC(conditions) });
}

function checkMultiplier(reference: ReferenceCase): void {
  const power = textOf(reference.given, "header") === "x1000" ? -3 : -2;
  const [expected] = Object.values(reference.expect);
  expect(`${formatDecimal(shift(decimal(textOf(reference.given, "printed")), power))} %`).toBe(expected);
}
