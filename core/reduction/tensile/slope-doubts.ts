import { ELONGATIONS } from "../../quantity/quantity.js";
import type { TensileCurve } from "./curve.js";
import { type CurveDoubt, EVERYTHING, FROM_THE_LINE } from "./curve-doubt.js";
import { type ElasticLine, withSlope } from "./elastic-line.js";
import { type Metal, metalOf } from "./metals.js";
import { proofStrength } from "./proof-strength.js";
import type { Specimen } from "./record.js";

/** Factors that a mixed-up unit leaves in a slope. */
const UNIT_MIX_UPS: readonly (readonly [factor: number, what: string])[] = [
  [100, "strain in % taken for a ratio"],
  [0.01, "strain as a ratio taken for %"],
  [1e6, "strain in µm/m taken for a ratio"],
  [1000, "a factor of 1000: force in kN taken for N, or extension in µm taken for mm"],
  [0.001, "a factor of 1000: force in N taken for kN, or extension in mm taken for µm"],
  [6.894757, "stress in ksi taken for MPa"],
  [1 / 6.894757, "stress in MPa taken for ksi"],
  [9.80665, "kgf taken for N"],
  [1 / 9.80665, "N taken for kgf"],
  [4.448222, "lbf taken for N"],
  [1 / 4.448222, "N taken for lbf"],
  [25.4, "extension in mm taken for inches"],
  [1 / 25.4, "extension in inches taken for mm"],
];

export function slopeDoubts(curve: TensileCurve, line: ElasticLine, specimen: Specimen): CurveDoubt[] {
  const metal = metalOf(specimen.material?.value);
  const doubts = [uncertainSlope(curve, line)];
  if (!isSlopeOf(metal, line)) doubts.push(outsideRange(curve, line, metal, specimen.finalLengthMm !== undefined));
  return doubts.filter((doubt) => doubt !== undefined);
}

/**
 * A strength that no metal of the kind has, where no slope bears it out: a slope within its range proves force, section, strain
 * and gauge length at once, since all four are in it.
 */
export function strengthDoubts(
  curve: TensileCurve,
  line: ElasticLine | undefined,
  strengthMPa: number,
  material: string | undefined,
): CurveDoubt[] {
  if (!(strengthMPa > 0)) return []; // no samples, or forces of the wrong sign, which is told as such
  const metal = metalOf(material);
  const isProven = line !== undefined && curve.strainFrom === "extensometer" && isSlopeOf(metal, line);
  if (isProven || (strengthMPa >= metal.weakestMPa && strengthMPa <= metal.strongestMPa)) return [];
  const message =
    `The highest stress ${strengthMPa.toPrecision(4)} MPa lies outside the ${metal.weakestMPa} to ${metal.strongestMPa} MPa of ${metal.name}, ` +
    "and no elastic slope bears it out: a unit of force or of the section, or the metal, is not what it seems.";
  return [{ code: "units-suspect", message, affects: EVERYTHING }];
}

function isSlopeOf(metal: Metal, { slopeMPa }: ElasticLine): boolean {
  return slopeMPa >= metal.lowGPa * 1000 && slopeMPa <= metal.highGPa * 1000;
}

/** Beyond this factor no test of the same metal goes astray: a unit, a section or the gauge length must be wrong. */
const FAR = 1.5;

function outsideRange(curve: TensileCurve, line: ElasticLine, metal: Metal, hasFinalLength: boolean): CurveDoubt {
  const slopeGPa = line.slopeMPa / 1000;
  const range = `${metal.lowGPa} to ${metal.highGPa} GPa expected of ${metal.name}`;
  const slope = `The elastic slope ${slopeGPa.toPrecision(4)} GPa lies outside the ${range}`;
  const far = slopeGPa * FAR < metal.lowGPa || slopeGPa > metal.highGPa * FAR;
  if (far && curve.strainFrom === "extensometer") {
    const mixUp = UNIT_MIX_UPS.find(
      ([factor]) => slopeGPa * factor >= metal.lowGPa && slopeGPa * factor <= metal.highGPa,
    );
    const because = mixUp ? `: it would fit ${mixUp[1]}.` : ": a unit, the section or the metal is not what it seems.";
    return { code: "units-suspect", message: `${slope}${because}`, affects: EVERYTHING };
  }
  const change = proofChange(curve, line, metal.usualGPa * 1000);
  const matters = change === undefined || Math.abs(change.share) > MATTERS_SHARE;
  const effect =
    change === undefined
      ? "No proof strength could be compared."
      : `With ${metal.usualGPa} GPa held instead, Rp0.2 would be ${change.toMPa.toFixed(1)} MPa rather than ${change.fromMPa.toFixed(1)} MPa.`;
  if (curve.strainFrom === "extensometer" && slopeGPa > metal.highGPa) {
    // A bent start or a bent piece makes a slope too flat. Nothing of the kind makes it too steep.
    const because = "the section or the gauge length is not what it seems, or the extensometer sticks";
    return { code: "slope-outside-range", message: `${slope}: ${because}. ${effect}`, affects: EVERYTHING };
  }
  return {
    code: "slope-outside-range",
    message: `${slope}: a bent start, a slipping extensometer, a wrong gauge length or a window that is not straight. ${effect}`,
    affects: [
      ...(matters ? [...FROM_THE_LINE, "Ag" as const] : ["E" as const]),
      ...(hasFinalLength ? [] : ELONGATIONS),
    ],
  };
}

/** A proof strength that moves by less than this with the slope is as good as its other uncertainties. */
const MATTERS_SHARE = 0.01;
/** ISO 6892-1:2019, annex G, asks for 1 % in the slope where the modulus itself is wanted. */
const UNCERTAIN_SHARE = 0.01;
/** Half of what is allowed: the rest is left to the noise of the crossing itself. */
const UNCERTAIN_MATTERS_SHARE = 0.005;
const FEWEST_POINTS = 5;

function uncertainSlope(curve: TensileCurve, line: ElasticLine): CurveDoubt | undefined {
  const share = line.slopeStandardErrorMPa / line.slopeMPa;
  // Noise in strain flattens a line fitted to stress. Fitted the other way round it would be steeper by 1 / R²; the truth lies between.
  const flattened = 1 / line.rSquared - 1;
  if (share <= UNCERTAIN_SHARE && flattened <= UNCERTAIN_SHARE && line.points >= FEWEST_POINTS) return undefined;
  const steeper = 1 + Math.max(2 * share, flattened);
  const changes = [1 - 2 * share, steeper].map((turn) => proofChange(curve, line, line.slopeMPa * Math.max(0.2, turn)));
  const matters =
    line.points < FEWEST_POINTS ||
    changes.some((change) => change === undefined || Math.abs(change.share) > UNCERTAIN_MATTERS_SHARE);
  return {
    code: "slope-uncertain",
    message:
      `The elastic slope rests on ${line.points} samples and is known to ${(100 * share).toPrecision(2)} % ` +
      `(standard uncertainty, R² ${line.rSquared.toFixed(4)}).`,
    affects: matters ? [...FROM_THE_LINE, "Ag"] : ["E"],
  };
}

function proofChange(curve: TensileCurve, line: ElasticLine, slopeMPa: number) {
  const fromMPa = proofStrength(curve, line, 0.002)?.stressMPa;
  const toMPa = proofStrength(curve, withSlope(line, slopeMPa), 0.002)?.stressMPa;
  if (fromMPa === undefined || toMPa === undefined) return undefined;
  return { fromMPa, toMPa, share: toMPa / fromMPa - 1 };
}
