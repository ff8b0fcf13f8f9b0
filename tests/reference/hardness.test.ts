import { expect } from "vitest";
import {
  austeniticBrinell,
  ferriticEquivalents,
  tensileFromBrinell,
} from "../../core/metallurgy/hardness-conversion.js";
import { brinell, rockwellB, rockwellC, vickers } from "../../core/metallurgy/hardness-from-indentation.js";
import { checkCases, expectNumbers, numberOf, type ReferenceCase, textOf } from "./reference-cases.js";

checkCases("hardness", (reference) => {
  const given = (name: string) => numberOf(textOf(reference.given, name));
  if (reference.id === "HD-HBW-1")
    return expectNumbers(reference, { HBW: brinell(given("F"), given("D"), given("d")) });
  if (reference.id === "HD-HV-1") return expectNumbers(reference, { HV: vickers(given("F"), given("d")) });
  if (reference.id === "HD-HRC-1")
    return expectNumbers(reference, { HRC: rockwellC(given("h_HRC")), HRB: rockwellB(given("h_HRB")) });
  if (reference.id === "HD-UTS-1") return expectNumbers(reference, { UTS: tensileFromBrinell(given("HB")) });
  if (reference.id.startsWith("HD-AUST")) return expectNumbers(reference, { HB: austeniticBrinell(given("HRB")) });
  checkTablePoint(reference, given("HBW"));
});

function checkTablePoint(reference: ReferenceCase, hb: number): void {
  const equivalents = ferriticEquivalents(hb)!;
  expect(equivalents.hrc).toBe(numberOf(textOf(reference.expect, "HRC")));
  if (reference.expect.UTS !== undefined) expect(`${equivalents.tensileKsi} ksi`).toBe(reference.expect.UTS);
}
