import { type FoundGrade, findGrade, type GradeQuery } from "./find-grade.js";
import type { Library } from "./grade.js";
import { type GradeText, parseGradeText } from "./parse-grade-text.js";
import { parseStandardName } from "./standard-name.js";

/**
 * As findGrade, for text that may name several grades: "304/304L", "ASTM A240 304/304L", "1.4307 to EN 10028-7". All of them are meant
 * (dual certified). Two designations of one grade, "1.4307 / X2CrNi18-9", are one grade.
 */
export function findGrades(library: Library, query: GradeQuery): readonly FoundGrade[] {
  const whole = findGrade(library, query);
  if (whole.kind !== "unknown") return [whole];

  const parts = parseGradeText(query.grade);
  if (parts.length === 0) return [whole];
  const results = partsOf(library, query, parts);
  if (!isOnlyStandard(query.grade) || results.some(({ kind }) => kind !== "unknown")) return results;
  return [{ kind: "unknown", near: [], because: `${query.grade} is a standard: name a grade of it` }];
}

function isOnlyStandard(text: string): boolean {
  return parseStandardName(text) !== undefined;
}

function partsOf(library: Library, query: GradeQuery, parts: readonly GradeText[]): readonly FoundGrade[] {
  return distinct(
    parts.map((part) =>
      findGrade(library, {
        ...query,
        grade: part.grade,
        // What the grade's own text names is nearer to it than the field beside it.
        ...(part.standard !== undefined && { standard: part.standard }),
      }),
    ),
  );
}

function distinct(found: readonly FoundGrade[]): readonly FoundGrade[] {
  const seen = new Set<string>();
  return found.filter((result) => {
    if (result.kind !== "found") return true;
    const { id } = result.grade.grade;
    if (seen.has(id)) return false;
    seen.add(id);
    return true;
  });
}
