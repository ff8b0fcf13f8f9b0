import type { GradeClaim, Statement } from "../certificate/certificate.js";
import { pairClaims, readGradeClaims } from "./grade-claims.js";
import type { FieldStatement } from "./result-row.js";
import { hasStandard } from "./standards.js";

/** The grades a heat is claimed to be: by its own row first, else by what the page says once for all. */
export function collectClaims(
  ownFields: readonly FieldStatement[],
  pageFields: readonly FieldStatement[],
): Statement<GradeClaim>[] {
  const own = claimsIn(ownFields, pageFields);
  return own.length > 0 ? own : claimsIn(pageFields, pageFields);
}

/** "ASTM A240 304L" in one field and "UNS S30403" in another speak of one standard. */
function standardsInGrades(fields: readonly FieldStatement[]): string {
  return fields
    .filter(({ field, statement }) => field === "grade" && hasStandard(statement.value))
    .map(({ statement }) => statement.value)
    .join("; ");
}

function claimsIn(fields: readonly FieldStatement[], pageFields: readonly FieldStatement[]): Statement<GradeClaim>[] {
  const standardsOf = (source: readonly FieldStatement[]) =>
    source
      .filter(({ field }) => field === "standard")
      .map(({ statement }) => statement.value)
      .join("; ");
  const standards = standardsOf(fields) || standardsOf(pageFields) || standardsInGrades(fields);
  const grades = fields.filter(({ field }) => field === "grade");
  const named = grades.length > 0 ? grades : fields.filter(({ field }) => field === "standard" || field === "form");
  const claims = named.flatMap(({ field, statement }) => {
    const read = field === "grade" ? pairClaims(statement.value, standards) : readGradeClaims(statement.value);
    // A loose product description only counts where it names a standard too.
    const sure = field === "form" ? read.filter((claim) => claim.standard !== undefined) : read;
    return sure.map((value) => ({ ...statement, value }));
  });
  const seen = new Set<string>();
  return claims.filter(({ value }) => {
    const key = JSON.stringify([value.standard, value.edition, value.grade]);
    return !seen.has(key) && seen.add(key);
  });
}
