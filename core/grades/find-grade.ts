import { designationKey } from "./designation.js";
import { editionCovers, editionYear, newestFirst } from "./edition.js";
import type { Library, LibraryGrade } from "./grade.js";
import { parseStandardName, type StandardName } from "./standard-name.js";

export interface GradeQuery {
  /** As people write it: "ASTM A240/A240M-18", "SA-240", "DIN EN 10028-7". Left out: every standard that has the grade. */
  readonly standard?: string;
  /** One designation: "304L", "S30403", "1.4307". Take "304/304L" apart with parseGradeText first. */
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
  const standard = query.standard === undefined ? undefined : parseStandardName(query.standard);
  if (query.standard !== undefined && standard === undefined) {
    return {
      kind: "unknown",
      near: [],
      because: `${JSON.stringify(query.standard)} is not a standard that is known here`,
    };
  }

  const inStandard = standard ? library.grades.filter((entry) => standardKey(entry) === standard.key) : library.grades;
  const named = inStandard.filter((entry) => isDesignation(entry, query.grade));
  if (named.length === 0) return unknown(library, query, inStandard);

  const names = new Set(named.map((entry) => `${standardKey(entry)} ${entry.grade.name}`));
  if (names.size > 1) {
    return {
      kind: "ambiguous",
      candidates: named,
      because: `${query.grade} is ${names.size} grades: name the standard`,
    };
  }
  return chooseEdition(named, query, standard);
}

function chooseEdition(named: readonly LibraryGrade[], query: GradeQuery, standard?: StandardName): FoundGrade {
  const cited = query.edition ?? standard?.edition ?? query.certificateEdition;
  const citedBy =
    query.edition !== undefined
      ? "named by the requirement"
      : standard?.edition !== undefined
        ? "named with the standard"
        : "named by the certificate";
  const sortedNewestFirst = [...named].sort((left, right) => newestFirst(left.grade, right.grade));
  const adoption = standard?.adoptedBy ? `; ${standard.adoptedBy} adopts editions late, so check the one in force` : "";

  if (cited === undefined) {
    const newest = sortedNewestFirst[0]!;
    const chosen = named.length === 1 ? "the only edition held, none was named" : "newest edition, none was named";
    return { kind: "found", grade: newest, chosen: chosen + adoption };
  }

  const year = editionYear(cited);
  const fitting = named.filter(
    ({ grade }) => grade.edition.name === cited || (year !== undefined && editionCovers(grade.edition, year)),
  );
  if (fitting.length === 1)
    return { kind: "found", grade: fitting[0]!, chosen: `edition ${cited} ${citedBy}${adoption}` };
  const held = named.map(({ grade }) => grade.edition.name).join("; ");
  return {
    kind: "ambiguous",
    candidates: fitting.length > 0 ? fitting : named,
    because: `edition ${cited} is not held: ${held}`,
  };
}

function isDesignation(entry: LibraryGrade, text: string): boolean {
  const key = designationKey(text);
  return entry.grade.designations.some((designation) => designationKey(designation) === key);
}

function standardKey(entry: LibraryGrade): string | undefined {
  return parseStandardName(entry.grade.standard)?.key;
}

const MAX_NEAR = 8;

function unknown(library: Library, query: GradeQuery, inStandard: readonly LibraryGrade[]): FoundGrade {
  const elsewhere = library.grades.filter((entry) => isDesignation(entry, query.grade));
  const key = designationKey(query.grade);
  const alike = inStandard.filter(({ grade }) =>
    grade.designations.some((designation) => differsByOne(designationKey(designation), key)),
  );
  const near = new Set([...elsewhere, ...alike].map(({ grade }) => `${grade.standard} ${grade.name}`));
  const where = query.standard === undefined ? "any standard held" : query.standard;
  return { kind: "unknown", near: [...near].slice(0, MAX_NEAR), because: `no grade ${query.grade} in ${where}` };
}

/** One character put in, left out or mistaken. */
function differsByOne(left: string, right: string): boolean {
  if (left.length > right.length) return differsByOne(right, left);
  if (right.length - left.length > 1) return false;
  let same = 0;
  while (same < left.length && left[same] === right[same]) same += 1;
  return left.slice(left.length === right.length ? same + 1 : same) === right.slice(same + 1);
}
