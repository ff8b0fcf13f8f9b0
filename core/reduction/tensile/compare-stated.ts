import { kindOf, type Quantity, reportUnit } from "../../quantity/quantity.js";
import type { CurveDoubt } from "./curve-doubt.js";
import type { StatedResult } from "./record.js";
import type { ReducedResult } from "./reduction.js";

interface Tolerance {
  readonly share?: number;
  readonly points?: number;
}

/**
 * How far two sound reductions of one record may lie apart. Rm and Z leave no choice but rounding. Proof strength depends on the
 * window of the slope (over 67 published curves reduced again: at most 3.2 MPa, 0.3 %; another laboratory's window: 1 %).
 * Elongations are printed to 0.5 %; A from the fitted halves and from an extensometer differ by about a point.
 */
const TOLERANCES: Partial<Record<Quantity, Tolerance>> = {
  Rm: { share: 0.005 },
  E: { share: 0.1 },
  Z: { points: 1 },
  Ag: { points: 0.5 },
  Agt: { points: 0.5 },
};

/** Holds the laboratory's own results against the reduced ones; each disagreement beyond tolerance is a doubt on that quantity. */
export function compareStated(stated: readonly StatedResult[], reduced: readonly ReducedResult[]): CurveDoubt[] {
  return stated.flatMap((result) => {
    const own = reduced.find((candidate) => sameQuantity(candidate.quantity, result.quantity));
    if (!own || agree(own, result)) return [];
    const unit = reportUnit(own.quantity);
    const message =
      `The record states ${result.quantity} ${Number(result.value.toPrecision(6))} ${unit}, reduction of its curve gives ` +
      `${Number(own.value.toPrecision(6))} ${unit}: further apart than ${describeTolerance(own.quantity)}.`;
    return [{ code: "stated-result-differs", message, affects: [own.quantity] }];
  });
}

function sameQuantity(own: Quantity, stated: Quantity): boolean {
  return (
    own === stated ||
    (kindOf(own) === "elongation" && kindOf(stated) === "elongation" && [own, stated].includes("Elongation"))
  );
}

function toleranceOf(quantity: Quantity): Tolerance {
  return TOLERANCES[quantity] ?? (kindOf(quantity) === "elongation" ? { points: 1.5 } : { share: 0.01 });
}

function agree(own: ReducedResult, stated: StatedResult): boolean {
  const { share, points } = toleranceOf(own.quantity);
  const apart = Math.abs(own.value - stated.value);
  return apart <= (points ?? 0) + (share ?? 0) * Math.abs(stated.value);
}

function describeTolerance(quantity: Quantity): string {
  const { share, points } = toleranceOf(quantity);
  return points === undefined ? `${100 * share!} %` : `${points} points`;
}
