import type { UndeterminedReason } from "../verdict/finding.js";

interface Advice {
  /** Why it could not be decided, in a few words. */
  readonly because: string;
  /** What the receiving inspector can do about it. */
  readonly todo: string;
}

export const ADVICE: Readonly<Record<UndeterminedReason, Advice>> = {
  "not-reported": {
    because: "Not reported",
    todo: "Ask the mill or the laboratory for the missing value, or have it tested.",
  },
  "unit-unknown": {
    because: "Unit not known",
    todo: "Look at the document for the unit and confirm it, or ask the issuer.",
  },
  "bound-not-decisive": {
    because: "Only a bound is reported",
    todo: "Ask for the measured value, or for an analysis with a lower detection limit.",
  },
  "bracket-unknown": {
    because: "The limit depends on something not stated",
    todo: "State product form, thickness and condition in the requirement.",
  },
  "low-confidence": {
    because: "Not read with enough certainty",
    todo: "Compare the value with the document at the place named and confirm or correct it.",
  },
  contradiction: {
    because: "The documents contradict themselves",
    todo: "Clear up the contradiction with the issuer; do not build the heat in before that.",
  },
  "reference-unverified": {
    because: "The limit itself is not verified",
    todo: "Compare the limit with your own copy of the standard and confirm it, or load your own grade file.",
  },
  "gauge-length-unknown": {
    because: "Elongation not on the required gauge length, or on one that is not stated",
    todo: "Ask on which gauge length the elongation was measured, and for the elongation on the required one.",
  },
  "kind-unknown": {
    because: "Kind of value not stated",
    todo: "Ask which kind of yield strength, hardness or analysis the value is.",
  },
  "grade-unknown": {
    because: "Grade not in the library",
    todo: "Name the grade in the requirement, or load a grade file for it.",
  },
  "grade-ambiguous": {
    because: "The grade claimed fits more than one",
    todo: "Name standard and grade in the requirement.",
  },
  "grade-not-claimed": {
    because: "Not certified as the required grade",
    todo: "Ask the manufacturer to certify the metal as the required grade, or record a concession.",
  },
  "document-unreadable": {
    because: "A document could not be read",
    todo: "Ask for the document again, best as PDF with text, as workbook or as CSV.",
  },
  "document-type": {
    because: "Inspection document type not stated",
    todo: "Ask for an inspection document of the type required (EN 10204).",
  },
  "nothing-judged": {
    because: "No limit was held against this heat",
    todo: "Give a requirement that names a grade or limits.",
  },
  "test-incomplete": {
    because: "The test is not complete",
    todo: "Ask for the missing test pieces of the set.",
  },
  "not-comparable": {
    because: "Tested in another way than the limit asks",
    todo: "Ask for a test as the limit states it, or agree on another rule in the requirement.",
  },
  "retest-needed": {
    because: "The rule allows a retest",
    todo: "Order the retest that the rule allows and hand in its result.",
  },
};
