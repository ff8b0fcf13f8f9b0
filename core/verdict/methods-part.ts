import type { Rounding } from "../quantity/rounding.js";
import type { Outcome } from "./finding.js";
import type { Note } from "./judgement.js";

/**
 * ASTM E29: naming the standard without the method means nothing, so a finding says where the two methods part.
 * @param own outcome by the method that applies
 * @param other outcome by the other one (`otherMethod`)
 */
export function methodsPart(rounding: Rounding, own: Outcome, other: Outcome): Note {
  const [absolute, rounded] = rounding === "absolute" ? [own, other] : [other, own];
  return {
    code: "methods-disagree",
    absolute,
    rounding: rounded,
    ...(rounding === "rounding rule B" && { ruleB: true }),
  };
}
