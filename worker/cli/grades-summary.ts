import type { Known, Library, LibraryGrade } from "../../core/grades/grade.js";
import { groupBy } from "../../core/verdict/group-by.js";
import { isVerified } from "../../core/verdict/known.js";
import { columns } from "./columns.js";

/** How many limits are held, by how they are known; the last four add up to `limits`. */
interface LimitCounts {
  readonly limits: number;
  /** May fail a heat: seen in sources for this standard that agree, or the user's own. */
  readonly verified: number;
  /** Seen, but sources disagree or a footnote may lift the bound. */
  readonly disputed: number;
  /** Seen only in a sister standard or another edition. */
  readonly sister: number;
  readonly memory: number;
}

export interface StandardSummary extends LimitCounts {
  readonly standard: string;
  /** As the files name them, oldest first. */
  readonly editions: readonly string[];
  /** Grades, however many editions of each are held. */
  readonly grades: number;
  /** Grades and editions: one file each. */
  readonly files: number;
}

export interface LibrarySummary {
  readonly standards: readonly StandardSummary[];
  readonly totals: LimitCounts & { readonly standards: number; readonly grades: number; readonly files: number };
}

/** The library in numbers, standard by standard, in alphabetical order. */
export function summarise({ grades }: Library): LibrarySummary {
  const standards = groupBy(grades, ({ grade }) => grade.standard)
    .map((entries) => summaryOf(entries[0]!.grade.standard, entries))
    .sort((left, right) => (left.standard < right.standard ? -1 : 1));
  return {
    standards,
    totals: {
      standards: standards.length,
      grades: standards.reduce((sum, standard) => sum + standard.grades, 0),
      files: grades.length,
      ...count(grades),
    },
  };
}

function summaryOf(standard: string, entries: readonly LibraryGrade[]): StandardSummary {
  const byAge = [...entries].sort((left, right) => (left.grade.edition.from ?? 0) - (right.grade.edition.from ?? 0));
  return {
    standard,
    editions: [...new Set(byAge.map(({ grade }) => grade.edition.name))],
    grades: new Set(entries.map(({ grade }) => grade.id.split("/").at(-1))).size,
    files: entries.length,
    ...count(entries),
  };
}

function count(entries: readonly LibraryGrade[]): LimitCounts {
  const known = entries.flatMap(({ grade }) => grade.limits.map((limit) => limit.known));
  const of = (is: (known: Known) => boolean) => known.filter(is).length;
  return {
    limits: known.length,
    verified: of(isVerified),
    disputed: of((one) => one.how === "seen" && !isVerified(one)),
    sister: of(({ how }) => how === "sister"),
    memory: of(({ how }) => how === "memory"),
  };
}

const UNNAMED = "edition not named by the sources";

export function summaryText({ standards, totals }: LibrarySummary): string {
  const numbers = (row: LimitCounts & { readonly grades: number; readonly files: number }) =>
    [row.grades, row.files, row.limits, row.verified, row.disputed, row.sister, row.memory].map((number) =>
      String(number).padStart(6),
    );
  const rows = standards.map((row) => [
    row.standard,
    ...numbers(row),
    row.editions.map((name) => (name === UNNAMED ? "not named" : name)).join("; "),
  ]);
  const heads = ["grades", "files", "limits", "verif.", "disp.", "sister", "memory"].map((head) => head.padStart(6));
  return [
    columns([["standard", ...heads, "editions"], ...rows, [`${totals.standards} standards`, ...numbers(totals)]]),
    "",
    "A file holds one grade in one edition. Verified limits may fail a heat. The others leave it undetermined and mark a pass: disputed",
    "(sources disagree, or a footnote may lift the bound), sister (seen in a sister standard or another edition only), memory (recalled).",
  ].join("\n");
}
