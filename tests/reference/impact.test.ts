import { expect } from "vitest";
import { energyPerArea } from "../../core/metallurgy/impact-per-area.js";
import { decimal, formatDecimal, toNumber } from "../../core/quantity/decimal.js";
import { formatMeasure, measureIn } from "../../core/quantity/measure.js";
import { b313ImpactMinimum } from "../../core/requirement/b313-impact-minimums.js";
import { impactRule } from "../../core/requirement/impact-rules.js";
import { judgeRetest, retestAllowed } from "../../core/requirement/judge-retest.js";
import { judgeSet, type SetRequirement } from "../../core/requirement/judge-set.js";
import {
  type FullSizeRequirement,
  subsizeRequirement,
  subsizeRule,
} from "../../core/requirement/subsize-requirement.js";
import { isWithinTolerance, TEMPERATURE_TOLERANCES } from "../../core/requirement/test-temperature.js";
import {
  checkCases,
  decimalOf,
  expectNear,
  expectNumbers,
  listOf,
  measureOf,
  numberOf,
  type ReferenceCase,
  textOf,
} from "./reference-cases.js";

checkCases("impact", (reference) => {
  const check = CHECKS.find(([start]) => reference.id.startsWith(start));
  if (!check) throw new Error(`no check for ${reference.id}`);
  check[1](reference);
});

const CHECKS: readonly (readonly [start: string, check: (reference: ReferenceCase) => void])[] = [
  ["CV-ACC", checkSet],
  ["CV-RT-EN", (reference) => checkRetest(reference, "EN 10021")],
  ["CV-RT-US-3", checkRetestRefused],
  ["CV-RT-US", (reference) => checkRetest(reference, "ASME VIII")],
  ["CV-5SET", checkSetOfFive],
  ["CV-B313-1", checkTable],
  ["CV-B313", checkLateralExpansion],
  ["CV-TEMP", checkTemperature],
  ["CV-SUB-IGC", (reference) => checkSubsize(reference, "IGC Code")],
  ["CV-SUB-PROP", (reference) => checkSubsize(reference, "proportional")],
  ["CV-SUB-CFR", checkCoastGuardTable],
  ["CV-SUB-A370", checkA370Table],
  ["CV-KCV", checkPerArea],
  ["CV-FT", checkFootPounds],
];

const values = (reference: ReferenceCase, name: string) => listOf(reference.given, name).map(decimalOf);

function requirement(reference: ReferenceCase): SetRequirement {
  return { average: decimalOf(textOf(reference.given, "required_average")), rounding: "absolute" };
}

function checkSet(reference: ReferenceCase): void {
  const judged = judgeSet(
    impactRule(textOf(reference.given, "floor_rule"))!,
    requirement(reference),
    values(reference, "values"),
  );
  expect(formatDecimal(judged.singleMinimum!)).toBe(textOf(reference.given, "single_minimum").split(" ")[0]);
  expect(judged.outcome === "pass").toBe(reference.expect.accepted);
}

function checkRetest(reference: ReferenceCase, rule: string): void {
  const sets = [values(reference, "first"), values(reference, "second")] as const;
  expect(judgeRetest(impactRule(rule)!, requirement(reference), ...sets).outcome === "pass").toBe(
    reference.expect.accepted,
  );
}

function checkRetestRefused(reference: ReferenceCase): void {
  const first = values(reference, "first");
  const rule = impactRule("ASME VIII")!;
  expect(retestAllowed(rule, requirement(reference), first).allowed === "yes").toBe(reference.expect.retest_allowed);
  expectNear(toNumber(judgeSet(rule, requirement(reference), first).average!), 17, reference.tolerance, "mean");
}

function checkSetOfFive(reference: ReferenceCase): void {
  const judged = judgeSet(
    impactRule("set of five")!,
    { average: decimal("27.0"), rounding: "absolute" },
    values(reference, "values"),
  );
  expectNumbers(reference, { mean_of_three: toNumber(judged.average!) });
}

function checkTable(reference: ReferenceCase): void {
  const minimum = b313ImpactMinimum({
    minimumTensileMPa: decimalOf(textOf(reference.given, "Rm_min")),
    fullyDeoxidised: reference.given.deoxidised === true,
  });
  if (minimum?.kind !== "energy") throw new Error("the table gives energies here");
  expectNumbers(reference, { avg: toNumber(minimum.averageJ), single: toNumber(minimum.singleJ) });
}

function checkLateralExpansion(reference: ReferenceCase): void {
  const required: SetRequirement = { single: decimal("0.38"), rounding: "absolute" };
  expect(judgeSet(impactRule("each specimen")!, required, values(reference, "LE")).outcome === "pass").toBe(
    reference.expect.accepted,
  );
}

function checkTemperature(reference: ReferenceCase): void {
  const allowed = numberOf(textOf(reference.given, "tol"));
  const tolerance = TEMPERATURE_TOLERANCES.find(({ toleranceC }) => toNumber(toleranceC) === allowed)!;
  const [specified, actual] = [
    measureOf(textOf(reference.given, "specified")),
    measureOf(textOf(reference.given, "actual")),
  ];
  expect(isWithinTolerance(specified, actual, tolerance)).toBe(reference.expect.within);
}

function atWidth(rule: string, width: string, full: FullSizeRequirement) {
  const required = subsizeRequirement(subsizeRule(rule)!, measureOf(width), full);
  if (required.kind === undefined) throw new Error(required.reason);
  return required;
}

function checkSubsize(reference: ReferenceCase, rule: string): void {
  const full = { average: measureOf(textOf(reference.given, "KV_full")) };
  const required = atWidth(rule, textOf(reference.given, "width"), full);
  expectNumbers(reference, { required: toNumber(required.average!.value) });
}

function checkCoastGuardTable(reference: ReferenceCase): void {
  const full = { average: measureOf("20 ft.lbf") };
  const { average, single } = atWidth("46 CFR 54.05-20", textOf(reference.given, "width"), full);
  expectNumbers(reference, { avg: toNumber(average!.value), single: toNumber(single!.value) });
}

function checkA370Table(reference: ReferenceCase): void {
  const full = { average: measureOf(textOf(reference.given, "full")) };
  for (const [size, energy] of Object.entries(reference.expect)) {
    const { average } = atWidth("ASTM A370", `${size.replace("10x", "")} mm`, full);
    expect(formatMeasure(average!)).toBe(energy);
  }
}

function checkPerArea(reference: ReferenceCase): void {
  const [energy, width] = [decimalOf(textOf(reference.given, "KV")), decimalOf(textOf(reference.given, "B"))];
  expectNumbers(reference, { KCV: toNumber(energyPerArea(energy, width)) });
}

function checkFootPounds(reference: ReferenceCase): void {
  expectNumbers(reference, { KV: toNumber(measureIn(measureOf(textOf(reference.given, "KV")), "J")!) });
}
