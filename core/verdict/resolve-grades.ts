import type { GradeClaim, Statement } from "../certificate/certificate.js";
import { designationKey } from "../grades/designation.js";
import type { FoundGrade } from "../grades/find-grade.js";
import { findGrades } from "../grades/find-grades.js";
import type { Library, LibraryGrade } from "../grades/grade.js";
import { parseStandardName } from "../grades/standard-name.js";
import type { GradeReference, Requirement } from "../requirement/requirement.js";
import type { Judgement, Saying } from "./judgement.js";
import { keptWith, NO_REQUIREMENT, Remembered } from "./remembered.js";

export interface ResolvedGrade {
  readonly grade: LibraryGrade;
  /** Why this edition, in a few words. */
  readonly chosen: string;
}

export interface ResolvedGrades {
  readonly grades: readonly ResolvedGrade[];
  /** What could not be resolved, and required grades that no document claims. */
  readonly judgements: readonly Judgement[];
}

const RESOLVED = new WeakMap<Library, Remembered<ResolvedGrades>>();

/** The grades a heat is held to: the requirement's, all of them; without any, those that its certificate claims. */
export function resolveGrades(
  library: Library,
  requirement: Requirement | null,
  claims: readonly Statement<GradeClaim>[],
): ResolvedGrades {
  const claimed = claims.map(({ value: { standard, edition, grade } }) => [standard, edition, grade]);
  const resolved = keptWith(RESOLVED, library, () => new Remembered<ResolvedGrades>());
  return resolved.get(requirement ?? NO_REQUIREMENT, JSON.stringify(claimed), () =>
    lookUpGrades(library, requirement, claims),
  );
}

function lookUpGrades(
  library: Library,
  requirement: Requirement | null,
  claims: readonly Statement<GradeClaim>[],
): ResolvedGrades {
  const references = requirement?.grades ?? [];
  if (references.length === 0) return resolveClaims(library, claims);
  const found = references.flatMap((reference) =>
    findGrades(library, queryOf(reference, claims)).map((result) => ({ reference, found: result })),
  );
  return {
    grades: distinct(found.flatMap(({ found: result }) => gradeOf(result))),
    judgements: [
      ...found.flatMap(({ reference, found: result }) => unresolved(result, textOf(reference))),
      ...found.flatMap(({ found: result }) =>
        result.kind === "found" ? notClaimed(library, result.grade, claims) : [],
      ),
    ],
  };
}

function resolveClaims(library: Library, claims: readonly Statement<GradeClaim>[]): ResolvedGrades {
  const found = claims.flatMap(({ value: claim }) =>
    findGrades(library, {
      grade: claim.grade,
      ...(claim.standard !== undefined && { standard: claim.standard }),
      ...(claim.edition !== undefined && { certificateEdition: claim.edition }),
    }).map((result) => ({ claim, found: result })),
  );
  const grades = distinct(found.flatMap(({ found: result }) => gradeOf(result)));
  const unclear = found.filter(({ claim, found: result }) => result.kind !== "found" && !isCovered(claim, grades));
  return { grades, judgements: unclear.flatMap(({ claim, found: result }) => unresolved(result, textOf(claim))) };
}

/** "304L" alone, beside "ASTM A240 304L", adds nothing that is unclear. */
function isCovered(claim: GradeClaim, grades: readonly ResolvedGrade[]): boolean {
  return claim.standard === undefined && grades.some(({ grade }) => hasDesignation(grade, claim.grade));
}

function queryOf(reference: GradeReference, claims: readonly Statement<GradeClaim>[]) {
  const key = reference.standard === undefined ? undefined : parseStandardName(reference.standard)?.key;
  const claim = claims.find(({ value }) => key !== undefined && claimKey(value) === key && value.edition !== undefined);
  return {
    grade: reference.grade,
    ...(reference.standard !== undefined && { standard: reference.standard }),
    ...(reference.edition !== undefined && { edition: reference.edition }),
    ...(claim?.value.edition !== undefined && { certificateEdition: claim.value.edition }),
  };
}

/**
 * Metal that meets the limits of a grade is still not delivered as that grade: whether it may be used as such is for the purchaser and
 * the manufacturer to say.
 */
function notClaimed(library: Library, { grade }: LibraryGrade, claims: readonly Statement<GradeClaim>[]): Judgement[] {
  const isClaimed = claims.some(({ value }) =>
    findGrades(library, value).some((found) =>
      candidatesOf(found).some((claimed) => claimed.grade.standard === grade.standard && isOneGrade(claimed, grade)),
    ),
  );
  if (isClaimed) return [];
  const wanted = `${grade.standard} ${grade.name}`;
  const says: Saying = { code: "grade-not-claimed", wanted, claimed: claims.map(({ value }) => textOf(value)) };
  return [gradeJudgement("grade-not-claimed", says, grade.standard)];
}

/** What a claim can mean: "304L" alone may be a grade of many standards, and an edition that is not held still names the grade. */
function candidatesOf(found: FoundGrade): readonly LibraryGrade[] {
  if (found.kind === "found") return [found.grade];
  return found.kind === "ambiguous" ? found.candidates : [];
}

/** Editions of one standard may write a grade's name differently; they share a designation. */
function isOneGrade({ grade: left }: LibraryGrade, right: LibraryGrade["grade"]): boolean {
  return (
    left.name === right.name ||
    left.designations.some((own) => right.designations.some((other) => designationKey(own) === designationKey(other)))
  );
}

function unresolved(found: FoundGrade, text: string): Judgement[] {
  if (found.kind === "unknown") {
    return [gradeJudgement("grade-unknown", { code: "grade-unknown", text, near: found.near }, text)];
  }
  if (found.kind !== "ambiguous") return [];
  const candidates = found.candidates.map(({ grade }) => `${grade.standard} ${grade.name}, ${grade.edition.name}`);
  return [gradeJudgement("grade-ambiguous", { code: "grade-ambiguous", text, candidates }, text)];
}

function gradeJudgement(
  reason: "grade-unknown" | "grade-ambiguous" | "grade-not-claimed",
  says: Saying,
  standard: string,
): Judgement {
  return { outcome: "undetermined", reason, quantity: "grade", readings: [], source: { standard }, says, notes: [] };
}

function gradeOf(found: FoundGrade): ResolvedGrade[] {
  return found.kind === "found" ? [{ grade: found.grade, chosen: found.chosen }] : [];
}

function distinct(grades: readonly ResolvedGrade[]): ResolvedGrade[] {
  return grades.filter(
    (resolved, index) => grades.findIndex(({ grade }) => grade.grade.id === resolved.grade.grade.id) === index,
  );
}

function hasDesignation({ grade }: LibraryGrade, text: string): boolean {
  return grade.designations.some((own) => designationKey(own) === designationKey(text));
}

function claimKey(claim: GradeClaim): string | undefined {
  return claim.standard === undefined ? undefined : parseStandardName(claim.standard)?.key;
}

function textOf(named: { readonly standard?: string | undefined; readonly grade: string }): string {
  return named.standard === undefined ? named.grade : `${named.standard} ${named.grade}`;
}
