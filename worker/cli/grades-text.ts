import { designationKey } from "../../core/grades/designation.js";
import type { Grade, Known, Library, LibraryGrade } from "../../core/grades/grade.js";
import { limitText } from "../../core/grades/limit-text.js";
import { knownText } from "../../core/report/wording/notes.js";
import { isVerified } from "../../core/verdict/known.js";
import { columns } from "./columns.js";

/** One line for each grade: id, name, standard, edition, and how many of its limits may fail a heat. */
export function gradeList(library: Library, text: string): string {
  const wanted = designationKey(text);
  const grades = library.grades.filter(
    ({ grade }) => wanted === "" || namesOf(grade).some((name) => name.includes(wanted)),
  );
  if (grades.length === 0) return `no grade with ${JSON.stringify(text)}`;
  const rows = grades.map(({ grade }) => [
    grade.id,
    grade.name,
    `${grade.standard}, ${grade.edition.name}`,
    verifiedOf(grade),
  ]);
  return columns(rows);
}

/** Everything that is held of one grade. */
export function gradeSheet({ grade, digest }: LibraryGrade, chosen?: string): string {
  const head = [
    `${grade.name}: ${grade.standard}, ${grade.edition.name}${chosen === undefined ? "" : ` (${chosen})`}`,
    `id ${grade.id}, ${digest}`,
    `also ${grade.designations.join(", ")}; forms ${grade.forms.join(", ")}; ${grade.rounding === "absolute" ? "absolute comparison" : grade.rounding}`,
  ];
  const limits = grade.limits.map((limit) => [
    `#${limit.id}`,
    limitText(limit),
    limit.source.clause,
    `${isVerified(limit.known) ? "" : "* "}${knownText(limit.known)}`,
  ]);
  const unverified = grade.limits.some(({ known }) => !isVerified(known))
    ? [
        "",
        "* does not fail a heat by itself until you confirm it (heatgate grades confirm) or load your own grade file.",
      ]
    : [];
  return [...head, "", columns(limits), ...(grade.notes ?? []).map((note) => `- ${note}`), ...unverified].join("\n");
}

/** Standards, grades and limits in numbers, by how the limits are known. */
export function librarySummary(library: Library): string {
  const known = library.grades.flatMap(({ grade }) => grade.limits.map((limit) => limit.known));
  const count = (is: (known: Known) => boolean) => String(known.filter(is).length);
  const standards = new Set(library.grades.map(({ grade }) => grade.standard)).size;
  return [
    `${standards} standards, ${library.grades.length} grades and editions, ${known.length} limits, ${library.tolerances.length} tolerance tables: valid`,
    columns([
      ["seen in two or more sources", count(({ how, sources }) => how === "seen" && sources > 1)],
      ["seen in one source", count(({ how, sources }) => how === "seen" && sources === 1)],
      ["seen only in a sister standard or another edition", count(({ how }) => how === "sister")],
      ["from memory", count(({ how }) => how === "memory")],
      ["confirmed by the user", count(({ how }) => how === "user")],
      [
        "of these with sources that disagree or a footnote that may lift them",
        count(({ conflict }) => conflict !== undefined),
      ],
    ]),
  ].join("\n");
}

function namesOf(grade: Grade): string[] {
  return [grade.id, grade.standard, grade.name, ...grade.designations].map(designationKey);
}

function verifiedOf({ limits }: Grade): string {
  return `${limits.filter(({ known }) => isVerified(known)).length} of ${limits.length} limits verified`;
}
