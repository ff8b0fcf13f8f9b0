import { showUnprintable } from "../printable.js";
import type { CurveReport, ImpactReport, ReductionReport, TransitionReport } from "./reduction-report.js";
import { heatWords, statedFor } from "./reduction-words.js";

/** The reduction for a terminal: a block for each curve, pendulum table and transition. */
export function renderReductionText(report: ReductionReport): string {
  const lines = [
    ...report.curves.flatMap(curveLines),
    ...report.impact.flatMap(impactLines),
    ...report.transitions.flatMap(transitionLines),
    ...report.doubts.map((doubt) => `Doubt: ${doubt}`),
  ];
  if (lines.length === 0) lines.push("No tensile curve and no impact results were found in this file.");
  return `${lines.map((line) => showUnprintable(line.replace(/[\r\n]+/g, " "))).join("\n")}\n`;
}

function curveLines(curve: CurveReport): string[] {
  const who = [curve.heat && `heat ${curve.heat}`, curve.piece && `piece ${curve.piece}`].filter(Boolean).join(", ");
  const line = curve.elasticLine;
  return [
    `Tensile curve ${curve.name}${who === "" ? "" : `: ${who}`} (${curve.samples} samples, ${curve.place})`,
    ...(line
      ? [
          `    elastic line: slope ${line.slopeGPa} GPa (standard uncertainty ${line.standardUncertaintyGPa}), ` +
            `${line.windowMPa.join(" to ")} MPa, ${line.samples} samples, R² ${line.rSquared}, zero at ${line.zeroStrainPercent} %`,
        ]
      : []),
    ...curve.results.map(({ quantity, reported, unrounded, unit, doubted }) => {
      const stated = statedFor(curve, quantity);
      const beside = stated ? `   stated ${stated.value}` : "";
      return `    ${doubted ? "?" : " "} ${quantity.padEnd(11)} ${reported.padStart(7)} ${unit.padEnd(6)} unrounded ${unrounded}${beside}`;
    }),
    ...(curve.trueAtStrength
      ? [
          `      true values at Rm: ${curve.trueAtStrength.stressMPa} MPa at a true strain of ${curve.trueAtStrength.strain}`,
        ]
      : []),
    ...curve.notes.map((note) => `    note: ${note}`),
    ...curve.doubts.map(
      ({ message, affects }) => `    doubt: ${message}${affects.length > 0 ? ` [${affects.join(", ")}]` : ""}`,
    ),
  ];
}

function impactLines({ heat, pieces }: ImpactReport): string[] {
  return [
    `Impact, ${heatWords(heat)}`,
    ...pieces.map(
      ({ zone, temperature, quantity, reported, unit, unrounded, notes }) =>
        `    ${zone.padEnd(6)} ${temperature.padEnd(9)} ${quantity.padEnd(4)} ${reported.padStart(6)} ${unit.padEnd(3)} unrounded ${unrounded}  ${notes.join("; ")}`,
    ),
  ];
}

function transitionLines({ heat, zone, pieces, curve, refusal, results }: TransitionReport): string[] {
  return [
    `Transition, ${heatWords(heat)}, ${zone}: ${pieces} pieces`,
    ...(refusal ? [`    no curve (${refusal.code}): ${refusal.message}`] : []),
    ...(curve
      ? [
          `    tanh curve: shelves ${curve.lowerJ} and ${curve.upperJ} J, middle ${curve.middleC} °C, half width ${curve.widthC} °C`,
        ]
      : []),
    ...results.map(({ name, text }) => `    ${name.padEnd(18)} ${text}`),
  ];
}
