import { compare, parseDecimal } from "../../quantity/decimal.js";
import type { HeatValue } from "./heat-values.js";
import type { HistoryEntry, HistorySeries } from "./history.js";

type Kind = Pick<HeatValue, "quantity" | "zone" | "unit">;

/** The narrowest bounds that the heat was held to in this unit. A single impact piece is held to less than the mean that is drawn. */
export function requiredOfNewest(
  { findings }: HistoryEntry,
  { quantity, zone, unit }: Kind,
): HistorySeries["required"] {
  const limits = findings
    .filter((finding) => finding.quantity === quantity && (finding.zone ?? zone) === zone)
    .flatMap(({ limit }) => (limit && limit.unit === unit && !limit.id.endsWith("/single") ? [limit] : []));
  const min = narrowest(
    limits.flatMap((limit) => limit.min ?? []),
    1,
  );
  const max = narrowest(
    limits.flatMap((limit) => limit.max ?? []),
    -1,
  );
  return { ...(min !== undefined && { min }), ...(max !== undefined && { max }) };
}

function narrowest(bounds: readonly string[], direction: 1 | -1): string | undefined {
  const sorted = bounds
    .flatMap((text) => {
      const value = parseDecimal(text);
      return value ? [{ text, value }] : [];
    })
    .sort((left, right) => direction * compare(right.value, left.value));
  return sorted[0]?.text;
}
