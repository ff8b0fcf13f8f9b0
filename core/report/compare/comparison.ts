import type { Zone } from "../../certificate/certificate.js";
import type { Quantity } from "../../quantity/quantity.js";
import type { ServiceValue, TemperaturePoint } from "./value-at-service.js";

/** A heat in one zone: base metal and weld of one heat are two materials, for they break differently. */
export interface Material {
  /** "304L solution annealed, heat H4471, weld". */
  readonly name: string;
  readonly heat: string;
  readonly zone: MaterialZone;
}

export type MaterialZone = Zone | "zone not stated";

/** One test result. */
export interface TestedPoint extends TemperaturePoint {
  /** The reading itself, with all its digits; `value` is for drawing and interpolating. */
  readonly exact: string;
}

export interface ComparedRow {
  readonly material: Material;
  readonly points: readonly TestedPoint[];
  readonly atService: ServiceValue;
  /** Against the project's minimums, of the mean and of each piece: absent where none is set or nothing is known. */
  readonly meets?: boolean;
  readonly required?: string;
  readonly requiredSingle?: string;
  readonly notes: readonly string[];
}

export interface ComparedProperty {
  readonly quantity: Quantity;
  /** Impact values are compared zone by zone; strengths and elongations all together. */
  readonly zone?: MaterialZone;
  readonly title: string;
  readonly unit: string;
  readonly rows: readonly ComparedRow[];
  readonly winner: Winner;
}

/** Several heats or grades side by side at the service temperature (JSON, version 1). */
export interface Comparison {
  readonly comparison: 1;
  readonly serviceC: number;
  readonly requirement: string | null;
  readonly properties: readonly ComparedProperty[];
}

/** Who is ahead on one property at the service temperature, in words. */
export interface Winner {
  /** Absent where nobody is, or nobody can be told to be. */
  readonly name?: string;
  readonly message: string;
}
