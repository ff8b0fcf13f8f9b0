import type { Analysis, NumberedReading } from "../certificate/certificate.js";
import type { Doubt } from "../certificate/evidence.js";
import type { ProductFacts } from "../requirement/product-facts.js";

/** Everything known of one heat when limits are held against it. */
export interface HeatEvidence {
  readonly readings: readonly NumberedReading[];
  /** Doubts that concern this heat, or a quantity of every heat of its documents. */
  readonly doubts: readonly Doubt[];
  readonly facts: ProductFacts;
  /** Standards that the documents claim for this heat: decides what an unstated kind of yield or gauge length can mean. */
  readonly claimedStandards: readonly string[];
}

/** EN 10204 documents give the cast analysis unless they say product, so an unmarked analysis is taken as the heat's. */
export function analysisOf(reading: NumberedReading): Analysis {
  return reading.analysis ?? "heat";
}

/** A finding is no surer than the least sure of what it rests on. */
export function leastConfidence(readings: readonly NumberedReading[]): number {
  return readings.reduce((least, { confidence }) => Math.min(least, confidence), Number.POSITIVE_INFINITY);
}

export function doubtAbout(evidence: HeatEvidence, quantity: string): Doubt | undefined {
  return evidence.doubts.find((doubt) => doubt.quantity === quantity);
}
