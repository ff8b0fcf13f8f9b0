import type { Zone } from "../certificate/certificate.js";
import type { ReportHeat } from "./report.js";
import { ZONE_NAMES } from "./zone-names.js";

/**
 * What was read of a heat and held to no limit, in words: "KV (base metal, weld), LE". A pass says nothing of it. Empty
 * when every kind of value was held.
 */
export function unheldText({ readings, findings }: ReportHeat): string {
  const held = new Set(findings.flatMap((finding) => finding.readings));
  const quantities = [...new Set(readings.map(({ quantity }) => quantity))];
  return quantities
    .flatMap((quantity) => {
      const its = readings.filter((reading) => reading.quantity === quantity);
      const zones = [...new Set(its.map(({ zone }) => zone))];
      const unheld = zones.filter((zone) => !its.some((reading) => reading.zone === zone && held.has(reading.id)));
      const named = unheld.filter((zone): zone is Zone => zone !== undefined).map((zone) => ZONE_NAMES[zone]);
      if (unheld.length === 0) return [];
      return named.length === 0 ? quantity : `${quantity} (${named.join(", ")})`;
    })
    .join(", ");
}
