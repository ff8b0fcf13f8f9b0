import type { Decimal } from "./decimal.js";
import { compare, decimal } from "./decimal.js";
import { kindOf, QUANTITIES, type Quantity, reportUnit } from "./quantity.js";
import { convert, type Unit } from "./unit.js";

/**
 * Where results on structural and stainless steels, nickel alloys and their welds lie, generously. Outside it a slipped column,
 * a wrong unit or a lost decimal sign is likelier than the metal. Common practice, no source; not acceptance limits.
 */
const PRINTED_RANGES: Readonly<Partial<Record<Quantity, readonly [low: string, high: string]>>> = {
  C: ["0.0005", "4.5"],
  Si: ["0.0005", "6"],
  Mn: ["0.0005", "30"],
  P: ["0.0003", "0.4"],
  S: ["0.0001", "0.5"],
  Cr: ["0.0005", "40"],
  Ni: ["0.0005", "82"],
  Mo: ["0.0005", "35"],
  N: ["0.0001", "1.2"],
  Cu: ["0.0005", "45"],
  Nb: ["0.0001", "7"],
  Ti: ["0.0001", "6"],
  V: ["0.0001", "6"],
  W: ["0.0001", "20"],
  Co: ["0.0001", "60"],
  Al: ["0.0001", "12"],
  B: ["0.00001", "2.5"],
  Fe: ["0.001", "99.99"],
  H: ["0.000001", "0.01"],
  O: ["0.00001", "0.5"],
  Rm: ["150", "3000"],
  "Rp0.2": ["60", "2800"],
  "Rp1.0": ["70", "2800"],
  "Rt0.5": ["60", "2000"],
  ReH: ["80", "2000"],
  ReL: ["80", "2000"],
  Yield: ["60", "2800"],
  Z: ["1", "95"],
  HBW: ["50", "750"],
  HRB: ["20", "120"],
  HRC: ["5", "72"],
  HV: ["50", "1100"],
  KV: ["0.5", "450"],
  KU: ["0.5", "450"],
  KCV: ["0.5", "600"],
  LE: ["0", "4"],
  SFA: ["0", "100"],
  FN: ["0", "120"],
  CE: ["0.02", "1.5"],
  Pcm: ["0.02", "0.8"],
  PREN: ["5", "60"],
  E: ["60", "260"],
};
const OTHER_ELEMENT = ["0", "15"] as const;
const ELONGATION = ["0.5", "90"] as const;

interface Range {
  readonly low: Decimal;
  readonly high: Decimal;
  readonly unit: Unit;
  /** "0" and "0.00" are how some papers print an element that was not found. */
  readonly mayBeZero: boolean;
}

/** Every reading is asked for its range, so all that is known of one is found at once. */
const RANGES: ReadonlyMap<Quantity, Range> = new Map(
  QUANTITIES.flatMap((quantity) => {
    const kind = kindOf(quantity);
    const printed =
      PRINTED_RANGES[quantity] ??
      (kind === "chemistry" ? OTHER_ELEMENT : kind === "elongation" ? ELONGATION : undefined);
    if (!printed) return [];
    const [low, high] = [decimal(printed[0]), decimal(printed[1])];
    return [[quantity, { low, high, unit: reportUnit(quantity), mayBeZero: kind === "chemistry" }] as const];
  }),
);

/** Whether a value, in its stated unit, lies where such metals can lie. Quantities without a range are not questioned. */
export function isPhysical(quantity: Quantity, value: Decimal, unit: Unit): boolean {
  const wide = RANGES.get(quantity);
  const converted = wide && convert(value, unit, wide.unit);
  if (!converted) return true;
  if (wide.mayBeZero && value.digits === 0n) return true;
  return compare(wide.low, converted) <= 0 && compare(converted, wide.high) <= 0;
}
