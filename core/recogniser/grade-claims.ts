import type { GradeClaim } from "../certificate/certificate.js";
import { tidy } from "./plain-text.js";
import { findStandards, type StandardFound } from "./standards.js";

/** Which family of standards a designation belongs to, by the way it is written. */
type Family = "american" | "european" | "japanese" | "any";

interface DesignationPattern {
  readonly pattern: RegExp;
  readonly family: Family;
}

/** Ways in which the trade writes grades. Longest first; no list of grades is consulted. */
const DESIGNATIONS: readonly DesignationPattern[] = [
  { pattern: /\bX\d{1,3}[A-Z][A-Za-z]*\d*(?:-\d+)*(?:\+[A-Z]{1,3}\d*)?/g, family: "european" },
  { pattern: /\b1\.\d{4}(?:\+[A-Z]{1,3}\d*)?/g, family: "european" },
  { pattern: /\bS\d{3}(?:[A-Z][A-Z0-9+]*)?(?![\dA-Z])/g, family: "european" },
  { pattern: /\bP\d{3}[A-Z][A-Z0-9]*(?:\+[A-Z]{1,3})?(?![\dA-Z])/g, family: "european" },
  { pattern: /\b\d{1,2}(?:Cr|Mo|Mn|Ni)[A-Za-z]*\d[\w-]*/g, family: "european" },
  { pattern: /\b[SN]\d{5}\b/g, family: "american" },
  { pattern: /\bSUS\s?\d{3}[A-Z]{0,3}\b/g, family: "japanese" },
  { pattern: /\bER?\d{3,4}[A-Za-z]{0,5}(?:-\d{2})?(?![\w.])/g, family: "any" },
  { pattern: /\b(?:TP|F|WP|CF|CR)\s?\d{1,3}[A-Z]{0,3}\b/g, family: "american" },
  { pattern: /\bX\d{2}[MNQ]?(?![\w-])/g, family: "american" },
  { pattern: /\b(?:[GPWS] )?\d{2} \d{1,2}(?: \d{1,2})?(?: L)?(?: (?:Si|Nb|Mn))?(?![\w.])/g, family: "european" },
  { pattern: /\b[2-6]\d{2}(?:[A-Z]{1,3})?(?!\d|\.\d|\s?(?:mm|MPa|°|HB|J\b))/g, family: "american" },
];
const GRADE_WORD = /\b(?:Gr(?:ade)?\.?|Cl(?:ass)?\.?|Type)\s?([A-Z0-9][A-Z0-9.-]{0,8})\b/gi;

/**
 * Splits "ASTM A240-18 / ASME SA240 Type 304/304L, EN 10028-7 1.4307+AT" into one claim per standard and grade.
 * A grade goes with the standards of its own family that stand nearest before it, else with those after it.
 */
export function readGradeClaims(text: string): GradeClaim[] {
  const tidied = tidy(text);
  const standards = findStandards(tidied);
  const grades = findDesignations(tidied, standards);
  if (grades.length === 0) return standards.filter(({ standard }) => SINGLE_GRADE.test(standard)).map(claimOfStandard);
  return uniqueClaims(grades.flatMap((grade) => pairUp(grade, standards)));
}

/** A standard with one grade that bears its own number. */
const SINGLE_GRADE = /^(?:ASTM A36|ASME SA-36)(?:\/|$)/;

function claimOfStandard({ standard, edition }: StandardFound): GradeClaim {
  return { standard, ...(edition && { edition }), grade: "A36" };
}

/** As `readGradeClaims`, where the standard and the grade stand in separate fields. */
export function pairClaims(gradeText: string, standardText: string): GradeClaim[] {
  const own = readGradeClaims(gradeText);
  if (own.some((claim) => claim.standard !== undefined)) return own;
  const standards = findStandards(tidy(standardText));
  const found = findDesignations(tidy(gradeText), []);
  const grades = found.length > 0 ? found : asWritten(tidy(gradeText));
  if (standards.length === 0 || grades.length === 0)
    return uniqueClaims(grades.map((grade) => claimOf(grade, undefined)));
  return uniqueClaims(
    grades.flatMap((grade) => {
      const fitting = standards.filter((standard) => fits(grade.family, standard.standard));
      return (fitting.length > 0 ? fitting : [undefined]).map((standard) => claimOf(grade, standard));
    }),
  );
}

const LONGEST_GRADE = 40;
/** Also one that delivers nothing, such as EN 10204 or ISO 9001. */
const NAMES_A_STANDARD = /\b(?:EN|ISO|DIN|ASTM|ASME|AWS|API|JIS)\b/;

/**
 * What a field that is titled as the grade's says is a claim, though no pattern knows it ("70", "B", "Q9"): dropped, the metal would
 * be held to less than it is sold as. Words without a digit ("see order") are none, but for a letter or three.
 */
function asWritten(text: string): Designation[] {
  const isGrade = text.length <= LONGEST_GRADE && (/\d/.test(text) || /^[A-Z]{1,3}$/.test(text));
  return isGrade && !NAMES_A_STANDARD.test(text) ? [{ grade: text, family: "any", at: 0 }] : [];
}

interface Designation {
  readonly grade: string;
  readonly family: Family;
  readonly at: number;
}

function findDesignations(text: string, standards: readonly StandardFound[]): Designation[] {
  const found: (Designation & { readonly to: number })[] = [];
  const isFree = (from: number, to: number) =>
    !standards.some((standard) => from < standard.to && standard.from < to) &&
    !found.some((other) => from < other.to && other.at < to);
  for (const { pattern, family } of DESIGNATIONS) {
    for (const match of text.matchAll(pattern)) {
      const to = match.index + match[0].length;
      if (isFree(match.index, to)) found.push({ grade: match[0].trim(), family, at: match.index, to });
    }
  }
  for (const match of text.matchAll(GRADE_WORD)) {
    const from = match.index + match[0].length - match[1]!.length;
    if (isFree(from, from + match[1]!.length))
      found.push({ grade: match[1]!, family: "american", at: from, to: from + match[1]!.length });
  }
  return found.sort((left, right) => left.at - right.at);
}

function pairUp(grade: Designation, standards: readonly StandardFound[]): GradeClaim[] {
  const fitting = standards.filter((standard) => fits(grade.family, standard.standard));
  const before = fitting.filter((standard) => standard.to <= grade.at);
  const after = fitting.filter((standard) => standard.from > grade.at);
  const near = before.length > 0 ? before : after;
  if (near.length === 0) return [claimOf(grade, undefined)];
  return near.map((standard) => claimOf(grade, standard));
}

function claimOf(grade: Designation, standard: StandardFound | undefined): GradeClaim {
  return {
    ...(standard && { standard: standard.standard }),
    ...(standard?.edition && { edition: standard.edition }),
    grade: grade.grade,
  };
}

function fits(family: Family, standard: string): boolean {
  if (family === "any") return true;
  if (family === "american") return /^(?:ASTM|ASME|AWS|API|AMS)/.test(standard);
  if (family === "japanese") return standard.startsWith("JIS");
  return /^(?:EN|DIN|BS|NF|UNI|UNE|SS|ÖNORM|SFS)\b/.test(standard);
}

function uniqueClaims(claims: readonly GradeClaim[]): GradeClaim[] {
  const seen = new Map<string, GradeClaim>();
  for (const claim of claims) seen.set(JSON.stringify([claim.standard, claim.edition, claim.grade]), claim);
  return [...seen.values()];
}
