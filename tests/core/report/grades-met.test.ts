import { expect, test } from "vitest";
import { gradesMet } from "../../../core/report/grades-met.js";
import type { GradeMatch } from "../../../core/report/match.js";
import type { Finding, Outcome } from "../../../core/verdict/finding.js";

const finding = (outcome: Outcome, quantity: string): Finding => ({
  outcome,
  quantity,
  readings: [],
  source: { standard: "ASTM A240/A240M", known: "seen in 3 sources", verified: true },
  message: `${quantity} ${outcome}`,
});
const grade = (outcome: Outcome, ...open: Finding[]): GradeMatch => ({
  id: "astm-a240/2023/s30403",
  standard: "ASTM A240/A240M",
  edition: "2023",
  name: "S30403",
  outcome,
  met: 9,
  open,
});

test.each<[match: GradeMatch, missed: number, open: number, reasons: string[]]>([
  [grade("pass"), 0, 0, []],
  [grade("undetermined", finding("undetermined", "S")), 0, 1, ["S"]],
  // What is missed says more than what could not be decided beside it.
  [grade("fail", finding("undetermined", "S"), finding("fail", "C")), 1, 1, ["C"]],
  [grade("fail", finding("fail", "C"), finding("fail", "Cr")), 2, 0, ["C", "Cr"]],
  [grade("fail", finding("fail", "C"), finding("fail", "Cr"), finding("fail", "Ni")), 3, 0, []],
])("%j", (match, missed, open, reasons) => {
  const [met] = gradesMet({ heat: "N1", grades: [match] }).grades;
  expect(met).toMatchObject({ id: match.id, outcome: match.outcome, met: 9, missed, open });
  expect(met!.reasons.map(({ quantity }) => quantity)).toEqual(reasons);
});
