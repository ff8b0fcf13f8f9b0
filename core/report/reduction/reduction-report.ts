import type { HeatRecord } from "../../certificate/certificate.js";
import { type Doubt, describePlace } from "../../certificate/evidence.js";
import { formatDecimal } from "../../quantity/decimal.js";
import { formatMeasure } from "../../quantity/measure.js";
import { reportUnit } from "../../quantity/quantity.js";
import type { ReducedCurve } from "../../reduction/reduce-records.js";
import type { TensileWork } from "../../reduction/tensile/reduction.js";
import { printResult } from "../../reduction/tensile/round-result.js";
import { trueCurve } from "../../reduction/tensile/true-curve.js";
import { isRefusal } from "../../reduction/transition/fit-transition.js";
import { reduceTransition, type TransitionReduction } from "../../reduction/transition/reduce-transition.js";
import { seriesOfReadings } from "../../reduction/transition/series-of-readings.js";
import type { TransitionTemperature } from "../../reduction/transition/transition-results.js";

/** What the reduce command prints (JSON, version 1): every value reduced from one file, with the work shown. */
export interface ReductionReport {
  readonly reduction: 1;
  readonly document: { readonly name: string; readonly sha256: string };
  readonly curves: readonly CurveReport[];
  readonly impact: readonly ImpactReport[];
  readonly transitions: readonly TransitionReport[];
  readonly doubts: readonly string[];
}

export interface CurveReport {
  readonly name: string;
  readonly heat?: string;
  readonly piece?: string;
  readonly samples: number;
  readonly place: string;
  readonly elasticLine?: {
    readonly slopeGPa: number;
    readonly standardUncertaintyGPa: number;
    readonly rSquared: number;
    readonly samples: number;
    readonly windowMPa: readonly [number, number];
    readonly zeroStrainPercent: number;
  };
  readonly results: readonly ResultReport[];
  /** True stress and true strain at Rm, the last point where they hold. */
  readonly trueAtStrength?: { readonly strain: number; readonly stressMPa: number };
  readonly stated: readonly { readonly quantity: string; readonly printed: string; readonly value: number }[];
  readonly notes: readonly string[];
  readonly doubts: readonly { readonly code: string; readonly message: string; readonly affects: readonly string[] }[];
}

export interface ResultReport {
  readonly quantity: string;
  /** As ISO 6892-1, clause 22, reports it. */
  readonly reported: string;
  readonly unrounded: string;
  readonly unit: string;
  readonly doubted: boolean;
  readonly notes: readonly string[];
}

export interface ImpactReport {
  readonly heat: string;
  readonly pieces: readonly {
    readonly set: string;
    readonly zone: string;
    readonly temperature: string;
    readonly quantity: string;
    readonly reported: string;
    readonly unrounded: string;
    readonly unit: string;
    readonly place: string;
    readonly notes: readonly string[];
  }[];
}

export interface TransitionReport {
  readonly heat: string;
  readonly zone: string;
  readonly pieces: number;
  /** Why there is no curve. */
  readonly refusal?: { readonly code: string; readonly message: string };
  readonly curve?: {
    readonly lowerJ: number;
    readonly upperJ: number;
    readonly middleC: number;
    readonly widthC: number;
  };
  readonly results: readonly { readonly name: string; readonly text: string }[];
}

export interface ReductionInput {
  readonly document: { readonly name: string; readonly sha256: string };
  readonly curves: readonly ReducedCurve[];
  /** Heats with impact readings: reduced from pendulum tables, or read as finished results. */
  readonly impactHeats: readonly HeatRecord[];
  readonly doubts: readonly Doubt[];
}

export function buildReductionReport(input: ReductionInput): ReductionReport {
  return {
    reduction: 1,
    document: input.document,
    curves: input.curves.map(curveReport),
    impact: input.impactHeats.map(impactReport).filter(({ pieces }) => pieces.length > 0),
    transitions: input.impactHeats.flatMap(transitionReports),
    doubts: input.doubts.map(({ message, evidence }) =>
      evidence ? `${describePlace(evidence)}: ${message}` : message,
    ),
  };
}

function curveReport({ name, record, reduction }: ReducedCurve): CurveReport {
  const { specimen } = record;
  const line = reduction.work?.line;
  return {
    name,
    ...(specimen.heat && { heat: specimen.heat.value }),
    ...(specimen.id && { piece: specimen.id.value }),
    samples: record.rows,
    place: `${describePlace(record.place)} to ${describePlace(record.lastPlace)}`,
    ...(line && {
      elasticLine: {
        slopeGPa: significant(line.slopeMPa / 1000, 5),
        standardUncertaintyGPa: significant(line.slopeStandardErrorMPa / 1000, 2),
        rSquared: significant(line.rSquared, 7),
        samples: line.points,
        windowMPa: [significant(line.window.fromMPa, 5), significant(line.window.toMPa, 5)] as const,
        zeroStrainPercent: significant(100 * line.zeroStrain, 4),
      },
    }),
    results: reduction.results.map((result) => {
      const { rounded, unrounded } = printResult(result.quantity, result.value);
      const touched = [...record.doubts, ...reduction.doubts].filter(({ affects }) =>
        affects.includes(result.quantity),
      );
      return {
        quantity: result.quantity,
        reported: rounded,
        unrounded: formatDecimal(unrounded),
        unit: reportUnit(result.quantity),
        doubted: result.doubtful !== undefined || touched.length > 0,
        notes: [...result.notes, ...(result.doubtful === undefined ? [] : [result.doubtful])],
      };
    }),
    ...trueAtStrength(reduction.work),
    stated: record.stated.map(({ quantity, printed, value }) => ({ quantity, printed, value: significant(value, 8) })),
    notes: reduction.notes,
    doubts: [
      ...[...record.doubts, ...reduction.doubts].map(({ code, message, affects }) => ({ code, message, affects })),
    ],
  };
}

/** Only where Rm lies within the range of the strain: after it the neck carries the strain. */
function trueAtStrength(work: TensileWork | undefined): Pick<CurveReport, "trueAtStrength"> {
  const last = work?.highest.index;
  if (!work?.line || last === undefined || last >= work.curve.strain.length || !work.curve.complete) return {};
  const { strain, stressMPa } = trueCurve(work.curve, work.line.zeroStrain, last);
  return { trueAtStrength: { strain: significant(strain[last]!, 6), stressMPa: significant(stressMPa[last]!, 6) } };
}

function impactReport({ heat, readings }: HeatRecord): ImpactReport {
  const pieces = readings
    .filter(({ quantity }) => quantity === "KV" || quantity === "LE" || quantity === "SFA")
    .map((reading) => ({
      set: reading.test ?? "",
      zone: reading.zone ?? "zone not stated",
      temperature: reading.temperature ? formatMeasure(reading.temperature) : "not stated",
      quantity: reading.quantity,
      reported: reading.printed,
      unrounded: formatDecimal(reading.value),
      unit: reading.unit,
      place: describePlace(reading.evidence),
      notes: reading.notes ?? [],
    }));
  return { heat: heat.value, pieces };
}

/** Only where the heat was tested at more than one temperature: a set at one is no attempt at a curve. */
function transitionReports({ heat, readings }: HeatRecord): TransitionReport[] {
  return seriesOfReadings(readings).flatMap(({ zone, series }): TransitionReport[] => {
    const temperatures = new Set(series.energyJ.map(({ temperatureC }) => temperatureC));
    if (temperatures.size < 2) return [];
    const reduction = reduceTransition(series);
    const common = { heat: heat.value, zone: zone ?? "zone not stated", pieces: series.energyJ.length };
    if (isRefusal(reduction.energy))
      return [{ ...common, refusal: reduction.energy, results: transitionResults(reduction) }];
    const { lower, upper, middleC, widthC } = reduction.energy.curve;
    const curve = {
      lowerJ: significant(lower, 5),
      upperJ: significant(upper, 5),
      middleC: significant(middleC, 5),
      widthC: significant(widthC, 5),
    };
    return [{ ...common, curve, results: transitionResults(reduction) }];
  });
}

function transitionResults(reduction: TransitionReduction): { readonly name: string; readonly text: string }[] {
  const temperatures = [
    ["T27J", reduction.T27J],
    ["T41J", reduction.T41J],
    ["T50 % shear", reduction.T50SFA],
    ["T0.9 mm expansion", reduction.T09mm],
  ] as const;
  const results = temperatures.flatMap(([name, result]) => (result ? [{ name, text: temperatureText(result) }] : []));
  const shelf = reduction.upperShelfJ;
  if (!shelf) return results;
  return [
    ...results,
    { name: "upper shelf", text: `${shelf.value.toFixed(1)} J ± ${shelf.plusMinus.toFixed(1)} J (95 %)` },
  ];
}

function temperatureText(result: TransitionTemperature | { readonly message: string }): string {
  if ("message" in result) return result.message;
  if ("none" in result) return result.none;
  return `${result.value.toFixed(1)} °C ± ${result.plusMinus.toFixed(1)} °C (95 %)`;
}

function significant(value: number, digits: number): number {
  return Number(value.toPrecision(digits));
}
