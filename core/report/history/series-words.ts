import { type ControlLimits, FEWEST_VALUES, type Signal } from "../compare/control-limits.js";
import { nameOf } from "../wording/names.js";
import type { HeatValue } from "./heat-values.js";
import type { HistoryPoint } from "./history.js";

type Kind = Pick<HeatValue, "quantity" | "zone" | "temperature" | "specimen">;

/** "Impact energy KV of 304L from Norrvik Stainless, base, -196 °C". */
export function seriesTitle(mill: string, grade: string, { quantity, zone, temperature, specimen }: Kind): string {
  const where = zone ?? (quantity === "KV" ? "zone not stated" : undefined);
  const conduct = [where, temperature, specimen].filter((part) => part !== undefined);
  return [`${nameOf(quantity)} of ${grade} from ${mill}`, ...conduct].join(", ");
}

export const SIGNAL_WORDS: Readonly<Record<Signal, string>> = {
  "beyond-limit": "outside the control limits",
  run: "eight or more in a row on one side of the mean",
  range: "further from the heat before than the ranges allow",
};

export function seriesMessage(
  title: string,
  unit: string,
  points: readonly HistoryPoint[],
  limits: ControlLimits | undefined,
  isOneMill: boolean,
): string {
  const heats = `${points.length} ${points.length === 1 ? "heat" : "heats"}`;
  if (!isOneMill) return `${title}: ${heats}; no control limits, because they may come from several mills.`;
  if (!limits) return `${title}: ${heats}; control limits need at least ${FEWEST_VALUES}.`;
  const between = `control limits ${shown(limits.lower)} to ${shown(limits.upper)} ${unit}`;
  const signals = points.flatMap(({ heat, signal }) => (signal ? [`${heat} ${SIGNAL_WORDS[signal]}`] : []));
  const said = signals.length === 0 ? "No heat gives a signal." : `Look into: ${signals.join("; ")}.`;
  return `${title}: ${heats}, mean ${shown(limits.mean)} ${unit}, ${between}. ${said}`;
}

/** Control limits are statistics; four digits are more than they are good for. */
export function shown(value: number): string {
  return String(Number(value.toPrecision(4))).replace("-", "−");
}
