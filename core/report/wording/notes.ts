import type { Known } from "../../grades/grade.js";
import { formatDecimal } from "../../quantity/decimal.js";
import type { LimitSource, Note } from "../../verdict/judgement.js";
import { nameOf } from "./names.js";

export function noteText(note: Note): string {
  switch (note.code) {
    case "methods-disagree":
      return note.ruleB
        ? `Rounding decides here: ${note.rounding} when rounded by rule B of ISO 80000-1 (half up), ${note.absolute} as it stands.`
        : `The two methods of ASTM E29 part here: ${note.rounding} by the rounding method, ${note.absolute} by the absolute method.`;
    case "unverified-pass":
      return "This limit is not verified: check it against the standard in force.";
    case "product-analysis":
      return note.tolerance && note.tolerance.digits > 0n
        ? `Product analysis: the limit is widened by ${formatDecimal(note.tolerance)} %.`
        : "Product analysis; no tolerance is known for this limit.";
    case "analysis-not-stated":
      return "The document does not say heat or product analysis; taken as heat analysis.";
    case "implied-kind":
      return `The document says ${nameOf(note.stated)}; held to ${note.taken}, which ${note.standard} means by it, since only its family of standards is claimed.`;
    case "zone-not-stated":
      return `The zone is not stated; taken as ${note.taken === "weld" ? "weld" : "base"} metal.`;
    case "inherent-condition":
      return `Delivery condition not stated; the standard delivers it ${note.condition}.`;
    case "all-brackets-agree":
      return `The ${note.unknown.join(" and ")} of the product is not known; every bracket of the standard gives the same.`;
    case "converted":
      return `Stated in ${note.from}; the value was converted, the limit was not.`;
    case "inch-pound":
      return "Held to the inch-pound value, which is a standard by itself.";
    case "size-not-stated":
      return "The size of the test pieces is not stated; held to the full-size minimums, the harder case.";
    case "held-at-bound":
      return `Given as bounds (${note.bound}), which decide: held at the bound.`;
    case "sub-size":
      return `Sub-size test pieces, ${note.width} wide: minimums by ${note.rule}.`;
    case "retest":
      return `Retest ${RETEST[note.allowed]}: ${note.because}.`;
    case "text":
      return note.text;
  }
}

const RETEST = { yes: "allowed", no: "not allowed", person: "for a person to decide" } as const;

/** How a limit came into the library, as the report says it. */
export function knownText(known: Known | undefined): string {
  if (known === undefined) return "project requirement";
  const sources = `${known.sources} source${known.sources === 1 ? "" : "s"}`;
  const base = {
    seen: `seen in ${sources}`,
    sister: "seen only in a sister standard, not verified",
    memory: "from memory, not verified",
    user: userText(known),
  }[known.how];
  return known.conflict === undefined ? base : `${base}; sources disagree: ${known.conflict}`;
}

/** With the rule, formula or tolerance that the bound rests on: "project requirement; EN 10021: from memory, not verified". */
export function sourceKnownText({ known, by }: LimitSource): string {
  return by === undefined ? knownText(known) : `${knownText(known)}; ${by.name}: ${knownText(by.known)}`;
}

function userText({ confirmed }: Known): string {
  if (confirmed === undefined) return "from the user's own file";
  return `confirmed by ${confirmed.by} on ${confirmed.on} against ${confirmed.document}`;
}
