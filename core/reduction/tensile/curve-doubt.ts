import { ELONGATIONS, OTHERS, type Quantity, STRENGTHS } from "../../quantity/quantity.js";

/** Something about a curve that a person should know, and which results must not decide because of it. */
export interface CurveDoubt {
  readonly code: string;
  readonly message: string;
  readonly affects: readonly Quantity[];
}

export const EVERYTHING: readonly Quantity[] = [...STRENGTHS, ...ELONGATIONS, ...OTHERS];
/** What hangs on stress alone, on strain, and on the elastic line. */
export const STRESSES: readonly Quantity[] = [...STRENGTHS, "E", "toughness", "resilience"];
export const STRAINS: readonly Quantity[] = [...ELONGATIONS, "Ag", "Agt", "E", "toughness"];
export const FROM_THE_LINE: readonly Quantity[] = ["Rp0.2", "Rp1.0", "E", "resilience"];
