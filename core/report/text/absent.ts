import type { Finding } from "../../verdict/finding.js";
import { limitText } from "../limit-text.js";
import type { ReportHeat } from "../report.js";

/** From this many on, limits of one grade without a value share a line. */
const LEAST = 3;

export interface Absent {
  /** "Not reported for ASTM A240/A240M S30403 (304L): C at most 0.030 %, Rm at least 485 MPa" */
  readonly lines: readonly string[];
  /** The findings that those lines tell of. */
  readonly told: ReadonlySet<Finding>;
}

/** Limits of a grade for which a heat reports nothing, a line a grade: a paper without its chemistry needs no page to say so. */
export function tellAbsent(heat: ReportHeat): Absent {
  const groups = heat.grades
    .map((grade) => ({ grade, findings: heat.findings.filter((finding) => isAbsent(finding, grade.id)) }))
    .filter(({ findings }) => findings.length >= LEAST);
  return {
    lines: groups.map(({ grade, findings }) => {
      const limits = findings.map((finding) => `${finding.quantity} ${limitText(finding)}`).join(", ");
      return `Not reported for ${grade.standard} ${grade.name}: ${limits}.`;
    }),
    told: new Set(groups.flatMap(({ findings }) => findings)),
  };
}

function isAbsent({ reason, readings, limit }: Finding, gradeId: string): boolean {
  return reason === "not-reported" && readings.length === 0 && limit?.id.split("#")[0] === gradeId;
}
