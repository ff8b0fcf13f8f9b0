import { type Certificate, CONFIDENCE_THRESHOLD, type Reading } from "../../core/certificate/certificate.js";
import { normaliseHeatNumber } from "../../core/certificate/heat-number.js";
import { compare, decimal } from "../../core/quantity/decimal.js";
import { formatMeasure } from "../../core/quantity/measure.js";
import type { Truth } from "./paper.js";

export interface Score {
  readonly expected: number;
  /** Readings for sure that are right. */
  readonly right: number;
  /** Expected values read below the threshold, or refused with a doubt. */
  readonly doubted: number;
  /** Expected values that are nowhere, though nothing was doubted. */
  readonly missed: number;
  /** Read wrong with confidence at or above the threshold. */
  readonly silentlyWrong: readonly string[];
}

export const NOTHING: Score = { expected: 0, right: 0, doubted: 0, missed: 0, silentlyWrong: [] };

export function addScores(left: Score, right: Score): Score {
  return {
    expected: left.expected + right.expected,
    right: left.right + right.right,
    doubted: left.doubted + right.doubted,
    missed: left.missed + right.missed,
    silentlyWrong: [...left.silentlyWrong, ...right.silentlyWrong],
  };
}

/** Holds every reading against the truth, each true value used once. */
export function scoreCertificate(certificate: Certificate, truth: readonly Truth[]): Score {
  const open = [...truth];
  const silentlyWrong: string[] = [];
  let right = 0;
  let doubted = 0;
  for (const { heat, readings } of certificate.heats) {
    // A heat whose name is not relied on can't decide anything; see `JoinedHeat.confidence`.
    const ceiling = heat.confidence;
    for (const reading of readings) {
      const at = open.findIndex((expected) => matches(expected, heat.value, reading));
      const isSure = Math.min(reading.confidence, ceiling) >= CONFIDENCE_THRESHOLD;
      if (at >= 0) {
        open.splice(at, 1);
        if (isSure) right += 1;
        else doubted += 1;
      } else if (isSure) {
        silentlyWrong.push(
          `${heat.value}: ${reading.quantity} ${reading.printed} ${reading.unit} ${reading.zone ?? ""} ${reading.analysis ?? ""}`.trim(),
        );
      }
    }
  }
  const isDoubted = certificate.doubts.length > 0;
  return {
    expected: truth.length,
    right,
    doubted: doubted + (isDoubted ? open.length : 0),
    missed: isDoubted ? 0 : open.length,
    silentlyWrong,
  };
}

function matches(expected: Truth, heat: string, reading: Reading): boolean {
  return (
    normaliseHeatNumber(expected.heat) === normaliseHeatNumber(heat) &&
    expected.quantity === reading.quantity &&
    expected.unit === reading.unit &&
    compare(decimal(expected.value), reading.value) === 0 &&
    expected.bound === reading.bound &&
    (expected.analysis === undefined || expected.analysis === reading.analysis) &&
    expected.zone === reading.zone &&
    (expected.temperature === undefined ||
      expected.temperature === (reading.temperature && formatMeasure(reading.temperature))) &&
    (expected.average ?? false) === (reading.statistic === "average")
  );
}
