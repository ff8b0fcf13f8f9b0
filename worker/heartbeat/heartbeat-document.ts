import type { Report } from "../../core/report/report.js";
import type { Requirement } from "../../core/requirement/requirement.js";

/** An invented certificate of two heats: carbon is on its limit in the first and one digit above it in the second. */
export const HEARTBEAT_DOCUMENT = `Certificate 3.1 EN 10204;;;;;
Product;plate;Thickness;12 mm;;
;;;;;
Chemical analysis, heat analysis, %;;;;;
Heat;C;Mn;P;S;
H90001;0.030;1.52;0.031;0.002;
H90002;0.031;1.47;0.028;0.003;
;;;;;
Tensile test at room temperature;;;;;
Heat;Rp0.2 MPa;Rm MPa;A50 %;;
H90001;291;618;55;;
H90002;284;607;57;;
`;

/** Limits of its own and no grade, so that what is expected stays true whatever grade files an installation loads. */
export const HEARTBEAT_REQUIREMENT: Requirement = {
  requirement: 1,
  name: "heartbeat",
  rounding: "absolute",
  limits: [
    { quantity: "C", max: "0.030", unit: "%" },
    { quantity: "Rm", min: "485", unit: "MPa" },
  ],
};

const EXPECTED = [
  "submission: fail",
  "H90001: pass; C pass; Rm pass",
  "H90002: fail; C fail; Rm pass",
  "doubts: none",
].join("\n");

/** What is not as it must be, in a sentence; undefined where everything is right. */
export function heartbeatFault(report: Report): string | undefined {
  const doubts = report.documents.flatMap((document) => document.doubts.map(({ code }) => code));
  const heats = report.heats.map(
    ({ heat, verdict, findings }) =>
      `${heat}: ${[verdict, ...findings.map(({ quantity, outcome }) => `${quantity} ${outcome}`)].join("; ")}`,
  );
  const found = [`submission: ${report.verdict}`, ...heats, `doubts: ${doubts.join(", ") || "none"}`].join("\n");
  if (found === EXPECTED) return undefined;
  return `The heartbeat document was judged wrongly. Expected: ${oneLine(EXPECTED)}. Found: ${oneLine(found)}.`;
}

function oneLine(text: string): string {
  return text.replaceAll("\n", " | ");
}
