import type { Erasure } from "../../worker/store/records.js";
import { Problem } from "../problems.js";

/** Whoever may ask for the submission may know when it was erased, by whom and why. */
export function submissionErased(erasure?: Erasure): Problem {
  if (!erasure) return new Problem("submission-erased");
  const { submission, erasedAt, person, reason, reference } = erasure;
  const cited = reference === undefined ? "" : ` (${reference})`;
  const detail = `The submission ${submission} was erased on ${erasedAt.toISOString()} by ${person}: ${reason}${cited}`;
  return new Problem("submission-erased", { detail });
}
