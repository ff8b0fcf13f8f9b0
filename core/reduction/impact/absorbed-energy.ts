/** Standard acceleration of free fall, m/s² (CGPM 1901), used where the laboratory states no local value. */
export const STANDARD_GRAVITY = 9.80665;

/** A pendulum as described in its record. Angles in degrees from the hanging position. */
export interface Pendulum {
  /** Moment of the pendulum, N·m: mass times gravity times distance from the axis to the centre of gravity (ISO 148-2, clause 6). */
  readonly momentNm?: number;
  readonly massKg?: number;
  readonly lengthM?: number;
  readonly gravity?: number;
  readonly releaseAngle?: number;
  readonly releaseHeightM?: number;
  /** Rise angles of the free swing: with the pointer set, with the pointer already driven, and after ten more half swings. */
  readonly freeSwing?: {
    readonly withPointer: number;
    readonly pointerDriven: number;
    readonly afterTenHalfSwings: number;
  };
  /** Nominal (scale) energy KN; where it isn't stated, the potential energy at release stands for it. */
  readonly nominalEnergyJ?: number;
}

/** Where one piece's swing ended. */
export interface Swing {
  readonly riseAngle?: number;
  readonly riseHeightM?: number;
}

/** M, N·m; undefined where neither the moment nor mass and length are known. */
export function momentOf({ momentNm, massKg, lengthM, gravity }: Pendulum): number | undefined {
  if (momentNm !== undefined) return momentNm;
  return massKg === undefined || lengthM === undefined ? undefined : massKg * (gravity ?? STANDARD_GRAVITY) * lengthM;
}

/** Potential energy at release: Kp = M (1 - cos α), or weight times drop height. */
export function releaseEnergyJ(pendulum: Pendulum): number | undefined {
  const moment = momentOf(pendulum);
  if (moment !== undefined && pendulum.releaseAngle !== undefined) return moment * (1 - cosine(pendulum.releaseAngle));
  if (pendulum.massKg === undefined || pendulum.releaseHeightM === undefined) return undefined;
  return pendulum.massKg * (pendulum.gravity ?? STANDARD_GRAVITY) * pendulum.releaseHeightM;
}

/**
 * Energy as the pointer shows it, losses not taken off: K = M (cos β - cos α), or weight times the height not regained
 * (ISO 148-2 and ASTM E23 the same). Undefined where the record does not say enough.
 */
export function indicatedEnergyJ(pendulum: Pendulum, swing: Swing): number | undefined {
  const moment = momentOf(pendulum);
  if (moment !== undefined && pendulum.releaseAngle !== undefined && swing.riseAngle !== undefined) {
    return moment * (cosine(swing.riseAngle) - cosine(pendulum.releaseAngle));
  }
  const { massKg, releaseHeightM, gravity } = pendulum;
  if (massKg === undefined || releaseHeightM === undefined || swing.riseHeightM === undefined) return undefined;
  return massKg * (gravity ?? STANDARD_GRAVITY) * (releaseHeightM - swing.riseHeightM);
}

export function cosine(degrees: number): number {
  return Math.cos((degrees * Math.PI) / 180);
}
