import { cosine, momentOf, type Pendulum } from "./absorbed-energy.js";

export interface PendulumLosses {
  /** p: by the pointer over its whole way. */
  readonly pointerJ: number;
  /** p': by bearings and air, per half swing. */
  readonly bearingAndAirJ: number;
}

/** ISO 148-2, clause 6.4, takes ten half swings between the last two readings of the free swing. */
const HALF_SWINGS = 10;

/** Losses from the rise angles of the free swing (ISO 148-2, clause 6.4; expressions from memory of the standard). */
export function pendulumLosses(pendulum: Pendulum): PendulumLosses | undefined {
  const moment = momentOf(pendulum);
  const { freeSwing } = pendulum;
  if (moment === undefined || !freeSwing) return undefined;
  const { withPointer, pointerDriven, afterTenHalfSwings } = freeSwing;
  return {
    pointerJ: moment * (cosine(withPointer) - cosine(pointerDriven)),
    bearingAndAirJ: (moment * (cosine(afterTenHalfSwings) - cosine(pointerDriven))) / HALF_SWINGS,
  };
}

/** Loss of a swing that ends at `riseAngle`: pointer by its share of the way, bearings and air by theirs. */
export function lossAtRiseJ(pendulum: Pendulum, losses: PendulumLosses, riseAngle: number): number | undefined {
  const { freeSwing, releaseAngle } = pendulum;
  if (!freeSwing || releaseAngle === undefined) return undefined;
  const pointer = (losses.pointerJ * riseAngle) / freeSwing.withPointer;
  const air = (losses.bearingAndAirJ * (releaseAngle + riseAngle)) / (releaseAngle + freeSwing.pointerDriven);
  return pointer + air;
}

/** ISO 148-2: pointer, bearings and air together at most 0.5 % of the nominal energy (from memory). */
export const MOST_LOSS_SHARE = 0.005;
