import { designationKey } from "./designation.js";
import { editionCovers, editionYear, newestFirst } from "./edition.js";
import type { Library, LibraryGrade } from "./grade.js";
import { gradeIndex } from "./grade-index.js";
import { parseStandardName, type StandardName } from "./standard-name.js";

export interface GradeQuery {
  /** As people write it: "ASTM A240/A240M-18", "SA-240", "DIN EN 10028-7". Left out: every standard that has the grade. */
  readonly standard?: string;
  /** One designation: "304L", "S30403", "1.4307". For "304/304L" there is findGrades. */
  readonly grade: string;
  /** Edition that the requirement names. It wins over the certificate's. */
  readonly edition?: string;
  /** Edition that the certificate names. */
  readonly certificateEdition?: string;
}

export type FoundGrade =
  /** `chosen` says in a few words why this edition; it goes into the report. */
  | { readonly kind: "found"; readonly grade: LibraryGrade; readonly chosen: string }
  /** Several grades or editions fit and nothing decides between them: never a guess. `because` says what is missing. */
  | { readonly kind: "ambiguous"; readonly candidates: readonly LibraryGrade[]; readonly because: string }
  /** Nothing fits. `near` are names that the writer may have meant. */
  | { readonly kind: "unknown"; readonly near: readonly string[]; readonly because: string };

/** Finds the one file of limits that a designation means, or says why it can't. */
export function findGrade(library: Library, query: GradeQuery): FoundGrade {
  const standard = query.standard === undefined ? undefined : nameOf(query.standard);
  const named = gradeIndex(library).named(query.grade, standard?.key);
  if (named.length === 0) return unknown(library, query, standard);

  const names = new Set(named.map(({ grade }) => `${grade.standard} ${grade.name}`));
  if (names.size === 1) return chooseEdition(named, query, standard);
  const standards = new Set(named.map(({ grade }) => grade.standard));
  const because =
    standards.size > 1
      ? `${query.grade} is a grade of ${[...standards].join(", ")}: name the standard`
      : `${query.grade} may be ${[...names].join(" or ")}: name it in full`;
  return { kind: "ambiguous", candidates: named, because };
}

/** A standard whose name no pattern knows may still be a user's own, known by exactly that name. */
function nameOf(standard: string): StandardName {
  return parseStandardName(standard) ?? { key: standard };
}

function chooseEdition(named: readonly LibraryGrade[], query: GradeQuery, standard?: StandardName): FoundGrade {
  const adoption = standard?.adoptedBy ? `; ${standard.adoptedBy} adopts editions late, so check the one in force` : "";
  const cited = citedEdition(query, standard);
  if (cited === undefined) {
    const [newest, second] = [...named].sort((left, right) => newestFirst(left.grade.edition, right.grade.edition));
    if (second && newestFirst(newest!.grade.edition, second.grade.edition) === 0) {
      return { kind: "ambiguous", candidates: named, because: `none of the editions held is known to be the newest` };
    }
    const chosen = second ? "newest edition, none was named" : "the only edition held, none was named";
    return { kind: "found", grade: newest!, chosen: chosen + adoption };
  }

  const fitting = named.filter(({ grade }) => isEdition(grade.edition, cited.edition));
  if (fitting.length === 1) {
    return { kind: "found", grade: fitting[0]!, chosen: `edition ${cited.edition} ${cited.by}${adoption}` };
  }
  const held = named.map(({ grade }) => grade.edition.name).join("; ");
  const fits = fitting.length === 0 ? "is not held" : "may be more than one of those held";
  return {
    kind: "ambiguous",
    candidates: fitting.length > 0 ? fitting : named,
    because: `edition ${cited.edition} ${fits}: ${held}`,
  };
}

function citedEdition(query: GradeQuery, standard?: StandardName): { edition: string; by: string } | undefined {
  if (query.edition !== undefined) return { edition: query.edition, by: "named by the requirement" };
  if (standard?.edition !== undefined) return { edition: standard.edition, by: "named with the standard" };
  if (query.certificateEdition === undefined) return undefined;
  return { edition: query.certificateEdition, by: "named by the certificate" };
}

function isEdition(edition: LibraryGrade["grade"]["edition"], cited: string): boolean {
  const year = editionYear(cited);
  return edition.name === cited || (year !== undefined && editionCovers(edition, year));
}

const MAX_NEAR = 8;

/** A pipe's or a Japanese designation before the number: TP304L asked of a plate standard, SUS304L. Named as near, never taken. */
const FOREIGN_PREFIX = /^(?:TP|SUS)(?=\d{3})/;

function unknown(library: Library, query: GradeQuery, standard?: StandardName): FoundGrade {
  const index = gradeIndex(library);
  const plain = designationKey(query.grade).replace(FOREIGN_PREFIX, "");
  const alike = [
    ...index.named(plain, standard?.key),
    ...index.named(query.grade),
    ...index.alike(query.grade, standard?.key),
  ];
  const near = [...new Set(alike.map(({ grade }) => `${grade.standard} ${grade.name}`))].slice(0, MAX_NEAR);
  return { kind: "unknown", near, because: `no grade ${query.grade} in ${query.standard ?? "any standard held"}` };
}
