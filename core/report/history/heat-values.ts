import { CONFIDENCE_THRESHOLD, type Zone } from "../../certificate/certificate.js";
import { add, type Decimal, decimal, formatDecimal, toNumber } from "../../quantity/decimal.js";
import { measureIn } from "../../quantity/measure.js";
import type { Quantity } from "../../quantity/quantity.js";
import { divideHalfEven } from "../../quantity/round.js";
import type { ComparableReading } from "../compare/comparable-heat.js";
import { comparableReading } from "../compare/stored-heats.js";
import type { ReportReading } from "../report.js";
import type { HistoryEntry } from "./history.js";

/** What one heat's tests of one kind say. */
export interface HeatValue {
  readonly quantity: Quantity;
  readonly zone?: Zone;
  readonly temperature?: string;
  /** Width of a sub-size piece, which is another test. */
  readonly specimen?: string;
  readonly unit: string;
  /** The one reading, or the mean of several with one place more. */
  readonly value: string;
  readonly readings: readonly string[];
}

/** What drifts at a mill and matters to a cryogenic vessel. */
const TRACKED: readonly Quantity[] = ["C", "Rp0.2", "KV"];

/** The tracked values of one heat, and how many readings could not be used. */
export function heatValues({ readings }: HistoryEntry): {
  readonly values: readonly HeatValue[];
  readonly left: number;
} {
  const kinds = new Map<string, { kind: Kind; readings: UsedReading[] }>();
  let left = 0;
  for (const reading of readings) {
    const used = usedReading(reading);
    if (used === "not tracked") continue;
    if (used === "left out") {
      left++;
      continue;
    }
    const key = JSON.stringify(used.kind);
    kinds.set(key, { kind: used.kind, readings: [...(kinds.get(key)?.readings ?? []), used] });
  }
  return { values: [...kinds.values()].map(({ kind, readings: all }) => heatValue(kind, all)), left };
}

type Kind = Pick<HeatValue, "quantity" | "zone" | "temperature" | "specimen" | "unit">;

interface UsedReading {
  readonly kind: Kind;
  readonly value: Decimal;
  readonly statistic: ComparableReading["statistic"];
}

/** Doubted readings and bounds say too little to be drawn; a check analysis of the product is not the heat's. */
function usedReading(stored: ReportReading): UsedReading | "not tracked" | "left out" {
  const reading = comparableReading(stored);
  if (!reading || !TRACKED.includes(reading.quantity) || stored.analysis === "product") return "not tracked";
  if (reading.confidence < CONFIDENCE_THRESHOLD || reading.bound !== undefined) return "left out";
  const { quantity, unit, value, statistic } = reading;
  if (quantity === "C") return { kind: { quantity, unit }, value, statistic };
  const celsius = reading.temperature && measureIn(reading.temperature, "°C");
  const temperature = celsius && temperatureName(toNumber(celsius), quantity);
  if (quantity === "KV" && temperature === undefined) return "left out";
  const zone = reading.zone ?? (quantity === "KV" ? undefined : "base");
  const isSubSize = stored.specimen !== undefined && stored.specimen !== "width 10 mm";
  const kind = {
    quantity,
    unit,
    ...(zone && { zone }),
    ...(temperature !== undefined && { temperature }),
    ...(quantity === "KV" && isSubSize && { specimen: stored.specimen }),
  };
  return { kind, value, statistic };
}

/** 10 to 35 °C is room temperature to ISO 6892-1, clause 5, and to a certificate that says nothing. */
const [ROOM_FROM_C, ROOM_TO_C] = [10, 35];

function temperatureName(celsius: number, quantity: Quantity): string | undefined {
  if (quantity !== "KV" && celsius >= ROOM_FROM_C && celsius <= ROOM_TO_C) return undefined;
  return `${Math.round(celsius)} °C`;
}

function heatValue(kind: Kind, readings: readonly UsedReading[]): HeatValue {
  const singles = readings.filter(({ statistic }) => statistic !== "average");
  const values = (singles.length > 0 ? singles : readings).map(({ value }) => value);
  return { ...kind, value: formatDecimal(mean(values)), readings: values.map(formatDecimal) };
}

function mean(values: readonly Decimal[]): Decimal {
  const [first, ...more] = values;
  if (more.length === 0) return first!;
  const places = Math.max(...values.map((value) => value.places)) + 1;
  return divideHalfEven(values.reduce(add), decimal(String(values.length)), places);
}
