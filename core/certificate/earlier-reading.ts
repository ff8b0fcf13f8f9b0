import type { Place } from "./evidence.js";

/** One value of a heat's cast analysis as an earlier report has it. Facts as text, for it is stored beside reports. */
export interface EarlierReading {
  readonly quantity: string;
  /** In %. Cast analyses are stated in % or ppm, so nothing was rounded on the way into the report. */
  readonly value: string;
  readonly printed: string;
  /** Id of the submission that it was handed in with. */
  readonly submission: string;
  readonly document: { readonly name: string; readonly sha256: string; readonly issuer?: string };
  readonly place: Place;
}

/** What was handed in of one heat before, one entry for each different value. */
export interface EarlierHeat {
  /** The heat number as `normaliseHeatNumber` gives it. */
  readonly heat: string;
  readonly readings: readonly EarlierReading[];
}
