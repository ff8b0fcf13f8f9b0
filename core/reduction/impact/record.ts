import type { Orientation, Zone } from "../../certificate/certificate.js";
import type { Place } from "../../certificate/evidence.js";
import type { Measure } from "../../quantity/measure.js";
import type { PlacedDoubt } from "../../recogniser/cells.js";
import type { Noted } from "../tensile/record.js";
import type { Pendulum, Swing } from "./absorbed-energy.js";

/** One impact test piece as recorded. */
export interface ImpactPiece {
  /** Its first raw cell. */
  readonly place: Place;
  /** The cells that each value comes from, in the order of the columns. */
  readonly places: Readonly<Partial<Record<"KV" | "LE" | "SFA", readonly Place[]>>>;
  readonly id?: string;
  readonly heat?: string;
  readonly set?: string;
  readonly zone?: Zone;
  readonly orientation?: Orientation;
  readonly temperature?: Measure;
  readonly widthMm?: number;
  readonly releaseAngle?: number;
  readonly releaseHeightM?: number;
  readonly swing: Swing;
  /** Energy that the laboratory itself gives. */
  readonly statedEnergyJ?: number;
  readonly expansion?: { readonly side1: readonly [number, number]; readonly side2: readonly [number, number] };
  readonly statedExpansionMm?: number;
  readonly patchMm?: readonly [width: number, depth: number];
  readonly statedShearPercent?: number;
  readonly transferSeconds?: number;
}

/** A table of raw impact results with the pendulum that made them. */
export interface ImpactRecord {
  readonly pendulum: Pendulum;
  readonly striker?: 2 | 8;
  readonly standard?: string;
  readonly specifiedTemperature?: Noted<Measure>;
  readonly heat?: Noted<string>;
  readonly zone?: Zone;
  readonly orientation?: Orientation;
  readonly widthMm?: number;
  readonly pieces: readonly ImpactPiece[];
  readonly place: Place;
  readonly doubts: readonly PlacedDoubt[];
}
