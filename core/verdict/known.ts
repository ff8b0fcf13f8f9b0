import type { Known } from "../grades/grade.js";
import type { LimitSource } from "./judgement.js";

/**
 * Rule of judgement 10: a limit recalled from memory, seen only in a sister standard, or disputed between sources of one edition
 * does not fail a heat by itself.
 */
export function isVerified(known: Known | undefined): boolean {
  if (!known) return true;
  if (known.how === "user") return true;
  return known.how === "seen" && known.sources > 0 && known.conflict === undefined;
}

/** A bound that a rule, formula or tolerance gives is verified only where both it and its giver are. */
export function isSourceVerified({ known, by }: LimitSource): boolean {
  return isVerified(known) && (by === undefined || isVerified(by.known));
}
