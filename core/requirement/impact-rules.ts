import type { Known } from "../grades/grade.js";
import { type Fraction, fraction } from "../quantity/fraction.js";
import type { RetestRuleName } from "./retest-rules.js";

/**
 * How a set of impact test pieces is held to its requirement.
 * Families differ in the floor for single values and in what may be done after a failure, so a rule is chosen by name.
 */
export interface ImpactRule {
  /** As a requirement names it. */
  readonly name: string;
  readonly pieces: 3 | 5;
  /** mean: of all pieces. middle three: highest and lowest are left out. none: every piece is judged by itself. */
  readonly average: "mean" | "middle three" | "none";
  /** Floor for single values as a share of the required average. Absent: only a single minimum that is stated counts. */
  readonly singleShare?: Fraction;
  /** How many singles may lie below the required average. Absent: not limited. */
  readonly belowAverageAllowed?: number;
  /** The table that the rule comes from prints its own single minimum; without it singles cannot be judged. */
  readonly singleMustBeStated?: true;
  readonly retest?: RetestRuleName;
  readonly source: { readonly standard: string; readonly clause?: string };
  readonly known: Known;
  readonly note?: string;
}

export const IMPACT_RULES = [
  {
    name: "70 %",
    pieces: 3,
    average: "mean",
    singleShare: fraction("7/10"),
    belowAverageAllowed: 1,
    source: { standard: "IGC Code", clause: "6.3.2.1" },
    known: { how: "seen", sources: 1 },
    note: "The family by itself, without a retest rule. EN standards carry the same floor.",
  },
  {
    name: "two thirds",
    pieces: 3,
    average: "mean",
    singleShare: fraction("2/3"),
    belowAverageAllowed: 1,
    source: { standard: "ASME BPVC VIII-2 and 46 CFR 56.50-105" },
    known: { how: "seen", sources: 2 },
    note: "The family by itself, without a retest rule.",
  },
  {
    name: "EN 10021",
    pieces: 3,
    average: "mean",
    singleShare: fraction("7/10"),
    belowAverageAllowed: 1,
    retest: "EN 10021 sequential",
    source: { standard: "EN 10021", clause: "impact test, sequential method" },
    known: { how: "memory", sources: 0 },
  },
  {
    name: "IGC Code",
    pieces: 3,
    average: "mean",
    singleShare: fraction("7/10"),
    belowAverageAllowed: 1,
    source: { standard: "IGC Code", clause: "6.3.2.1" },
    known: { how: "seen", sources: 1 },
  },
  {
    name: "ASME VIII",
    pieces: 3,
    average: "mean",
    singleShare: fraction("2/3"),
    belowAverageAllowed: 1,
    retest: "three more, each at the average",
    source: { standard: "ASME BPVC VIII", clause: "VIII-2 notes on impact minimums; UG-84" },
    known: { how: "seen", sources: 2 },
  },
  {
    name: "ASTM A370",
    pieces: 3,
    average: "mean",
    singleShare: fraction("2/3"),
    belowAverageAllowed: 1,
    retest: "three more, each at the average",
    source: { standard: "ASTM A370/A20", clause: "impact test acceptance and retest" },
    known: { how: "memory", sources: 0 },
  },
  {
    name: "ASTM A350",
    pieces: 3,
    average: "mean",
    belowAverageAllowed: 1,
    singleMustBeStated: true,
    retest: "two more, each at the average",
    source: { standard: "ASTM A350/A350M", clause: "impact test" },
    known: { how: "memory", sources: 0 },
    note: "A350, A333 and A320 print a single minimum beside each average.",
  },
  {
    name: "46 CFR 54.05-20",
    pieces: 3,
    average: "mean",
    belowAverageAllowed: 1,
    singleMustBeStated: true,
    source: { standard: "46 CFR", clause: "54.05-20" },
    known: { how: "seen", sources: 2 },
    note: "The table prints its singles (20.0 with 13.5 ft.lbf), which are not exactly two thirds. Longitudinal pieces need 1.5 times the transverse value (54.05-5).",
  },
  {
    name: "46 CFR 56.50-105",
    pieces: 3,
    average: "mean",
    singleShare: fraction("2/3"),
    belowAverageAllowed: 1,
    source: { standard: "46 CFR", clause: "56.50-105" },
    known: { how: "seen", sources: 1 },
  },
  {
    name: "ASME B31.3",
    pieces: 3,
    average: "mean",
    singleMustBeStated: true,
    retest: "three more, each at the average",
    source: { standard: "ASME B31.3", clause: "Table 323.3.5 (2016)" },
    known: { how: "seen", sources: 1 },
    note: "Average and single are two columns of one table; see b313-impact-minimums.",
  },
  {
    name: "API 5L",
    pieces: 3,
    average: "mean",
    singleShare: fraction("3/4"),
    source: { standard: "API 5L", clause: "CVN impact test" },
    known: { how: "memory", sources: 0 },
  },
  {
    name: "each specimen",
    pieces: 3,
    average: "none",
    retest: "lateral expansion",
    source: { standard: "ASME B31.3 Table 323.3.5 and ASME B31T 4.5.2", clause: "lateral expansion" },
    known: { how: "seen", sources: 2 },
    note: "Lateral expansion: every one of the three reaches the minimum; their mean does not count.",
  },
  {
    name: "set of five",
    pieces: 5,
    average: "middle three",
    source: { standard: "ASME B31T", clause: "weld metal, set of five (2015)" },
    known: { how: "seen", sources: 1 },
    note: "Highest and lowest are left out, the other three averaged. Nothing was seen on single values.",
  },
  {
    name: "as stated",
    pieces: 3,
    average: "mean",
    source: { standard: "project requirement" },
    known: { how: "user", sources: 0 },
    note: "Average and single exactly as the requirement states them. How many may lie below the average is not limited.",
  },
] as const satisfies readonly ImpactRule[];

/** The rule that a requirement or grade names; case and spacing do not matter. */
export function impactRule(name: string): ImpactRule | undefined {
  return IMPACT_RULES.find((rule) => sameName(rule.name, name));
}

/** Rule names as people type them: "70%" is "70 %". */
export function sameName(left: string, right: string): boolean {
  return plain(left) === plain(right);
}

function plain(name: string): string {
  return name.toLowerCase().replace(/\s+/g, "");
}
