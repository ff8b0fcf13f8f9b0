import { minimumPipeElongationPercent } from "../../core/metallurgy/pipe-elongation.js";
import { toNumber } from "../../core/quantity/decimal.js";
import {
  convertElongation,
  elongationByA370,
  elongationOnFixedLength,
} from "../../core/quantity/elongation-conversion.js";
import { checkCases, expectNumbers, numberOf, textOf } from "./reference-cases.js";

checkCases("elongation", (reference) => {
  const given = (name: string) => numberOf(textOf(reference.given, name));
  if (reference.id === "TN-API-1")
    return expectNumbers(reference, { Amin: toNumber(minimumPipeElongationPercent(given("A"), given("U"))) });
  if (reference.id === "TN-A370-1")
    return expectNumbers(reference, {
      e_carbon: elongationByA370(given("e0"), given("A"), given("L"), "ferritic"),
      e_austenitic: elongationByA370(given("e0"), given("A"), given("L"), "austenitic"),
    });
  if (reference.id === "TN-2566-1")
    return expectNumbers(reference, { A113: convertElongation(given("A565"), 5.65, given("k2"), "ferritic") });
  if (reference.id.startsWith("TN-2566-F"))
    return expectNumbers(reference, {
      carbon: convertElongation(1, 5.65, given("k"), "ferritic"),
      austenitic: convertElongation(1, 5.65, given("k"), "austenitic"),
    });
  const family = reference.id === "TN-2566-3" ? "austenitic" : "ferritic";
  expectNumbers(reference, { A50: elongationOnFixedLength(given("A565"), given("S0"), given("L0"), family) });
});
