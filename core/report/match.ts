import type { Finding, Outcome } from "../verdict/finding.js";
import type { GradeAnswer } from "../verdict/grades-satisfied.js";
import { reportFinding } from "./report-finding.js";

/** One heat against the whole library. */
export interface HeatMatches {
  readonly heat: string;
  readonly grades: readonly GradeMatch[];
}

export interface GradeMatch {
  readonly id: string;
  readonly standard: string;
  readonly edition: string;
  readonly name: string;
  readonly outcome: Outcome;
  /** Limits that are met. */
  readonly met: number;
  /** What fails or is not decided. */
  readonly open: readonly Finding[];
}

/** Met first, then missed by the fewest limits, then left open by the fewest; a grade of which nothing is met says nothing. */
export function reportMatches(heat: string, answers: readonly GradeAnswer[]): HeatMatches {
  const grades = answers
    .filter(({ met }) => met > 0)
    .map(({ grade: { grade }, outcome, open, met }) => ({
      id: grade.id,
      standard: grade.standard,
      edition: grade.edition.name,
      name: grade.name,
      outcome,
      met,
      open: open.map(reportFinding),
    }));
  return { heat, grades: grades.sort((left, right) => distance(left) - distance(right) || compareIds(left, right)) };
}

/** A missed limit weighs more than any number that could not be decided. */
function distance({ open }: GradeMatch): number {
  return failed(open) * 1_000 + open.length;
}

function failed(open: readonly Finding[]): number {
  return open.filter(({ outcome }) => outcome === "fail").length;
}

function compareIds(left: GradeMatch, right: GradeMatch): number {
  return left.id < right.id ? -1 : left.id > right.id ? 1 : 0;
}

/** For the terminal: what is met, what is missed by one limit, what is open; with `all`, everything else too. */
export function matchText(heats: readonly HeatMatches[], all: boolean): string {
  if (heats.length === 0) return "No heat found.\n";
  return heats.map((heat) => heatText(heat, all)).join("\n");
}

function heatText({ heat, grades }: HeatMatches, all: boolean): string {
  const met = grades.filter(({ outcome }) => outcome === "pass");
  const open = grades.filter(({ outcome }) => outcome === "undetermined");
  const near = grades.filter(({ outcome, open: findings }) => outcome === "fail" && (all || failed(findings) === 1));
  const hidden = grades.length - met.length - open.length - near.length;
  return [
    `Heat ${heat}`,
    ...section("meets", met),
    ...section("could not be decided for", open),
    ...section(all ? "misses" : "misses by one limit", near),
    ...(hidden > 0 ? [`  and misses ${hidden} more grades by several limits (--all shows them)`] : []),
    "",
  ].join("\n");
}

function section(title: string, grades: readonly GradeMatch[]): string[] {
  if (grades.length === 0) return [];
  return [`  ${title}:`, ...grades.flatMap(gradeLines)];
}

function gradeLines({ standard, edition, name, met, open }: GradeMatch): string[] {
  const shown = open.filter(({ outcome }) => outcome === "fail");
  const reasons = (shown.length > 0 ? shown : open).map(({ message }) => `        ${message}`);
  return [`    ${standard} ${name}, ${edition} (${met} limits met)`, ...reasons];
}
