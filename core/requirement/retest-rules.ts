import type { Known } from "../grades/grade.js";
import { type Decimal, decimal } from "../quantity/decimal.js";

/** What a rule family allows after a set has failed, and what the further pieces must reach. */
export interface RetestRule {
  readonly name: string;
  readonly furtherPieces: 2 | 3;
  /**
   * each: every further piece by itself reaches the required value.
   * all six: first and further pieces are judged together.
   */
  readonly judged: "each" | "all six";
  /** When a retest may be made. "unknown": the condition was not seen, a person decides. */
  readonly allowed: "asme" | "lateral expansion" | "while six can still pass" | "unknown";
  /** Judged together: how many of the six may lie below the required average, and below the floor for singles. */
  readonly belowAverageAllowed?: number;
  readonly belowSingleAllowed?: number;
  /** Lateral expansion: the one low piece may not be below `floor`; known only for the usual requirement. */
  readonly floors?: readonly { readonly required: Decimal; readonly floor: Decimal }[];
  readonly source: { readonly standard: string; readonly clause?: string };
  readonly known: Known;
}

const RETEST_RULES = [
  {
    name: "three more, each at the average",
    furtherPieces: 3,
    judged: "each",
    allowed: "asme",
    source: { standard: "ASME B31T", clause: "4.5.4.1 (2021); UG-84, A370 and A20 read the same from memory" },
    known: { how: "seen", sources: 1 },
  },
  {
    name: "two more, each at the average",
    furtherPieces: 2,
    judged: "each",
    allowed: "unknown",
    source: { standard: "ASTM A350/A350M", clause: "retests" },
    known: { how: "memory", sources: 0 },
  },
  {
    name: "lateral expansion",
    furtherPieces: 3,
    judged: "each",
    allowed: "lateral expansion",
    floors: [{ required: decimal("0.38"), floor: decimal("0.25") }],
    source: { standard: "ASME BPVC VIII-1", clause: "UHA-51, retest for lateral expansion" },
    known: { how: "memory", sources: 0 },
  },
  {
    name: "EN 10021 sequential",
    furtherPieces: 3,
    judged: "all six",
    allowed: "while six can still pass",
    belowAverageAllowed: 2,
    belowSingleAllowed: 1,
    source: { standard: "EN 10021", clause: "impact test, sequential method (2006)" },
    known: { how: "memory", sources: 0 },
  },
] as const satisfies readonly RetestRule[];

export type RetestRuleName = (typeof RETEST_RULES)[number]["name"];

export function retestRule(name: RetestRuleName): RetestRule {
  return RETEST_RULES.find((rule) => rule.name === name)!;
}
