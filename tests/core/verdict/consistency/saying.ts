import type { NumberedReading, Reading } from "../../../../core/certificate/certificate.js";
import type { Judgement } from "../../../../core/verdict/judgement.js";

/** Readings of one heat, numbered from 1 as the judge does it. */
export function numbered(readings: readonly Reading[]): NumberedReading[] {
  return readings.map((reading, index) => ({ ...reading, id: index + 1 }));
}

/** What contradictions say, without the words that every one of them has. */
export function sayings(judgements: readonly Judgement[]): string[] {
  return judgements.map(({ says }) => (says.code === "contradiction" ? says.what : says.code));
}
