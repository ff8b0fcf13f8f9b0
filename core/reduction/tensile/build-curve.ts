import type { TensileCurve } from "./curve.js";
import { type CurveDoubt, EVERYTHING, STRAINS, STRESSES } from "./curve-doubt.js";
import { extensometerRange } from "./extensometer.js";
import { findHighestStress } from "./highest-stress.js";
import type { TensileColumns, TensileRecord } from "./record.js";
import { originalSection, type Section, sectionMissing } from "./section.js";

export interface BuiltCurve {
  readonly curve: TensileCurve;
  /** Stress of every sample, those after the extensometer came off included. */
  readonly allStressMPa: Float64Array;
  /** Rows of the record that the curve covers: up to where the extensometer came off. */
  readonly rows: number;
  readonly section?: Section;
  readonly doubts: readonly CurveDoubt[];
  readonly notes: readonly string[];
}

/** Turns the columns of a record into one engineering curve. Without any stress there is no curve, only the doubts. */
export function buildCurve(record: TensileRecord): BuiltCurve | { readonly doubts: readonly CurveDoubt[] } {
  const section = originalSection(record.specimen);
  const stress = stressOf(record.columns, section);
  if (!stress.values) return { doubts: stress.doubts };
  const strain = strainOf(record);
  const doubts = [...(section?.doubts ?? []), ...stress.doubts, ...strain.doubts];
  const notes = [...stress.notes, ...strain.notes];

  const highestMPa = findHighestStress(measuredOnly(stress.values), 0, 0).stressMPa;
  const hasStrain = strain.values.some(isMeasured);
  const range = hasStrain ? extensometerRange(strain.values, stress.values, highestMPa) : { end: 0 };
  if (range.ended) doubts.push(extensometerDoubt(range.ended, strain.values[range.end - 1]!, strain.from));
  const kept = keepMeasured(strain.values, stress.values, range.end);
  if (kept.missing > 0) doubts.push(missingCells(kept.missing));

  return {
    curve: {
      strain: kept.strain,
      stressMPa: kept.stressMPa,
      strainFrom: strain.from,
      highestStressMPa: highestMPa,
      complete: range.ended === undefined,
    },
    allStressMPa: measuredOnly(stress.values),
    rows: range.end,
    ...(section && { section }),
    doubts,
    notes,
  };
}

/** Stated stresses and those from force and section may differ by this much, through rounding in the export. */
const STRESS_TOLERANCE = 0.005;

function stressOf(columns: TensileColumns, section: Section | undefined) {
  const { forceNewton, stressMPa } = columns;
  const notes: string[] = [];
  const doubts: CurveDoubt[] = [];
  if (!forceNewton || !section) {
    if (!stressMPa) return { values: undefined, doubts: [forceNewton ? sectionMissing : loadMissing], notes };
    notes.push("stress as recorded; not checked against force and section");
    return { values: stressMPa, doubts, notes };
  }
  const computed = forceNewton.map((force) => force / section.areaMm2);
  notes.push(`stress from force and S0 ${Number(section.areaMm2.toPrecision(7))} mm² (${section.from})`);
  if (stressMPa) {
    const recorded = highest(stressMPa);
    const own = highest(computed);
    if (Math.abs(recorded / own - 1) > STRESS_TOLERANCE) doubts.push(stressContradicts(recorded, own));
  }
  return { values: computed, doubts, notes };
}

const loadMissing: CurveDoubt = {
  code: "load-missing",
  message: "No column of force or stress could be used, so nothing was computed.",
  affects: EVERYTHING,
};

function stressContradicts(recordedMPa: number, ownMPa: number): CurveDoubt {
  return {
    code: "stress-contradicts-force",
    message:
      `The recorded stress reaches ${recordedMPa.toPrecision(5)} MPa, but force divided by section gives ${ownMPa.toPrecision(5)} MPa ` +
      `(${(recordedMPa / ownMPa).toPrecision(4)} times). Force and section were used: check units and section.`,
    affects: STRESSES,
  };
}

function strainOf(record: TensileRecord) {
  const { strain, extensionMm, crossheadMm } = record.columns;
  const { extensometerLengthMm, gaugeLengthMm, parallelLengthMm } = record.specimen;
  const notes: string[] = [];
  const doubts: CurveDoubt[] = [];
  if (strain) return { values: strain, from: "extensometer" as const, doubts, notes };

  const gaugeMm = extensometerLengthMm ?? gaugeLengthMm;
  if (extensionMm && gaugeMm) {
    notes.push(`strain from extension over ${gaugeMm.value} mm`);
    return { values: extensionMm.map((mm) => mm / gaugeMm.value), from: "extensometer" as const, doubts, notes };
  }
  const travel = crossheadMm ?? extensionMm;
  const lengthMm = parallelLengthMm ?? gaugeMm;
  if (travel && lengthMm) {
    notes.push(`strain from crosshead travel over ${lengthMm.value} mm`);
    doubts.push(machineCompliance);
    return { values: travel.map((mm) => mm / lengthMm.value), from: "crosshead" as const, doubts, notes };
  }
  doubts.push(gaugeLengthMissing);
  return { values: new Float64Array(record.rows).fill(Number.NaN), from: "crosshead" as const, doubts, notes };
}

const machineCompliance: CurveDoubt = {
  code: "machine-compliance",
  message:
    "There is no extensometer in the record, only the movement of the crosshead: it contains the give of machine and grips. " +
    "Slope, proof strengths and elongations from it are no test results.",
  affects: [...STRAINS, "Rp0.2", "Rp1.0", "Rt0.5", "resilience"],
};

const gaugeLengthMissing: CurveDoubt = {
  code: "gauge-length-missing",
  message: "The record gives an extension in mm but no gauge length, so no strain can be computed. State Le or L0.",
  affects: [...STRAINS, "Rp0.2", "Rp1.0", "Rt0.5", "resilience"],
};

function extensometerDoubt(how: "removed" | "frozen" | "jumped", strain: number, from: string): CurveDoubt {
  const what = { removed: "ends", frozen: "stops moving", jumped: "jumps back" }[how];
  return {
    code: "extensometer-ended",
    message:
      `The ${from === "extensometer" ? "extensometer" : "strain"} ${what} at ${(100 * strain).toFixed(2)} % while the force goes on. ` +
      "Strength comes from the whole record; what needs strain beyond that point was not computed.",
    affects: [],
  };
}

function missingCells(count: number): CurveDoubt {
  return {
    code: "samples-missing",
    message: `${count} ${count === 1 ? "row has" : "rows have"} no readable force or strain inside the curve and ${count === 1 ? "was" : "were"} left out.`,
    affects: [],
  };
}

function keepMeasured(strain: Float64Array, stressMPa: Float64Array, end: number) {
  const keptStrain = new Float64Array(end);
  const keptStress = new Float64Array(end);
  let kept = 0;
  for (let i = 0; i < end; i++) {
    const e = strain[i]!;
    const s = stressMPa[i]!;
    if (!isMeasured(e) || !isMeasured(s)) continue;
    keptStrain[kept] = e;
    keptStress[kept++] = s;
  }
  return { strain: keptStrain.subarray(0, kept), stressMPa: keptStress.subarray(0, kept), missing: end - kept };
}

function measuredOnly(values: Float64Array): Float64Array {
  return values.every(isMeasured) ? values : values.filter(isMeasured);
}

/** Far beyond every strain and stress in any unit, and far below where sums of squares overflow. False for NaN. */
function isMeasured(value: number): boolean {
  return Math.abs(value) < 1e12;
}

function highest(values: Float64Array): number {
  let best = Number.NEGATIVE_INFINITY;
  for (const value of values) if (value > best) best = value;
  return best;
}
