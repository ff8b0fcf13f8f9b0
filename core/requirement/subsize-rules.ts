import type { Known } from "../grades/grade.js";
import type { Unit } from "../quantity/unit.js";

/**
 * How a requirement for the full 10 mm test piece carries over to narrower pieces. The families contradict each other
 * and none follows from physics, so the requirement names one; without a name sub-size results stay undetermined.
 * Numbers are text; widths in mm.
 */
export type SubsizeRule = SubsizeRuleBase &
  (
    | {
        /** Required energy times width over 10, down to `minimumWidth`. */
        readonly kind: "proportional";
        readonly minimumWidth?: string;
      }
    | {
        /** Required energy times a share that depends on the width. Singles have their own share of the full average. */
        readonly kind: "shares";
        readonly rows: readonly { readonly width: string; readonly average: string; readonly single?: string }[];
        readonly between: "straight line" | "not given";
      }
    | {
        /** The standard prints energies by width for the full-size requirements it knows, in one unit. */
        readonly kind: "table";
        readonly unit: Unit;
        readonly columns: readonly {
          readonly full: { readonly average: string; readonly single?: string };
          readonly rows: readonly { readonly width: string; readonly average: string; readonly single?: string }[];
        }[];
        readonly between: "straight line" | "not given";
      }
    | {
        /** Energy as for the full size, but tested colder by an amount that depends on the width. */
        readonly kind: "colder test";
        readonly unit: Unit;
        readonly rows: readonly { readonly width: string; readonly colderBy: string }[];
      }
  );

interface SubsizeRuleBase {
  readonly name: string;
  readonly source: { readonly standard: string; readonly clause?: string };
  readonly known: Known;
  readonly note?: string;
}

/** ASTM A370 table of equivalent acceptance energies, ft.lbf: one list per width, in the order of `A370_FULL`. */
const A370_FULL = ["40", "35", "30", "25", "20", "16", "15", "13", "12", "10", "7"] as const;
const A370_BY_WIDTH: readonly (readonly [width: string, energies: readonly string[]])[] = [
  ["10", A370_FULL],
  ["7.5", ["30", "26", "22", "19", "15", "12", "11", "10", "9", "8", "5"]],
  ["6.7", ["27", "23", "20", "17", "13", "11", "10", "9", "8", "7", "5"]],
  ["5", ["20", "18", "15", "12", "10", "8", "8", "6", "6", "5", "4"]],
  ["3.3", ["13", "12", "10", "8", "7", "5", "5", "4", "4", "3", "2"]],
  ["2.5", ["10", "9", "8", "6", "5", "4", "4", "3", "3", "2", "2"]],
];

export const SUBSIZE_RULES = [
  {
    name: "proportional",
    kind: "proportional",
    source: { standard: "ASME B31.3", clause: "Table 323.3.5 note 2 (2016)" },
    known: { how: "seen", sources: 1 },
  },
  {
    name: "EN 10025",
    kind: "proportional",
    minimumWidth: "5",
    source: { standard: "EN 10025", clause: "impact test, sub-size test pieces" },
    known: { how: "memory", sources: 0 },
  },
  {
    name: "IGC Code",
    kind: "shares",
    rows: [
      { width: "10", average: "1" },
      { width: "7.5", average: "5/6" },
      { width: "5", average: "2/3" },
    ],
    between: "not given",
    source: { standard: "IGC Code", clause: "6.3.2.1" },
    known: { how: "seen", sources: 1 },
  },
  {
    name: "46 CFR 56.50-105",
    kind: "shares",
    rows: [
      { width: "10", average: "1", single: "2/3" },
      { width: "7.5", average: "5/6", single: "5/9" },
      { width: "5", average: "2/3", single: "4/9" },
      { width: "2.5", average: "1/2", single: "1/3" },
    ],
    between: "straight line",
    source: { standard: "46 CFR", clause: "56.50-105" },
    known: { how: "seen", sources: 1 },
  },
  {
    name: "46 CFR 54.05-20",
    kind: "table",
    unit: "ft.lbf",
    columns: [
      {
        full: { average: "20", single: "13.5" },
        rows: [
          { width: "10", average: "20.0", single: "13.5" },
          { width: "7.5", average: "16.5", single: "11.0" },
          { width: "5", average: "13.5", single: "9.0" },
          { width: "2.5", average: "10.0", single: "6.5" },
        ],
      },
    ],
    between: "straight line",
    source: { standard: "46 CFR", clause: "54.05-20(a) Table 1" },
    known: { how: "seen", sources: 2 },
    note: "Transverse pieces; longitudinal ones need 1.5 times these values (54.05-5).",
  },
  {
    name: "ASTM A370",
    kind: "table",
    unit: "ft.lbf",
    columns: A370_FULL.map((full, column) => ({
      full: { average: full },
      rows: A370_BY_WIDTH.map(([width, energies]) => ({ width, average: energies[column]! })),
    })),
    between: "not given",
    source: { standard: "ASTM A370", clause: "table of equivalent acceptance energies for sub-size specimens" },
    known: { how: "memory", sources: 0 },
  },
  {
    name: "ASME B31.3 colder test",
    kind: "colder test",
    unit: "°F",
    rows: [
      { width: "10", colderBy: "0" },
      { width: "9", colderBy: "0" },
      { width: "8", colderBy: "0" },
      { width: "7.5", colderBy: "5" },
      { width: "7", colderBy: "8" },
      { width: "6.7", colderBy: "10" },
      { width: "6", colderBy: "15" },
      { width: "5", colderBy: "20" },
      { width: "4", colderBy: "30" },
      { width: "3.3", colderBy: "35" },
      { width: "3", colderBy: "40" },
      { width: "2.5", colderBy: "50" },
    ],
    source: { standard: "ASME B31.3", clause: "Table 323.3.4" },
    known: { how: "memory", sources: 0 },
    note: "Seen as a fragment: 35 °F at 3.3 mm and 40 °F below it. The other rows are recalled.",
  },
] as const satisfies readonly SubsizeRule[];

/** Widths that are one size under two spellings: two thirds and one third of 10 mm. */
export const SAME_WIDTH: ReadonlyMap<string, string> = new Map([
  ["6.67", "6.7"],
  ["6.66", "6.7"],
  ["3.33", "3.3"],
]);
