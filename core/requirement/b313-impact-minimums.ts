import type { Known } from "../grades/grade.js";
import { compare, type Decimal, decimal } from "../quantity/decimal.js";

/**
 * ASME B31.3-2016 Table 323.3.5: impact minimums in J by the material's specified minimum tensile strength.
 * From 656 MPa, and for P-No. 6, 7 and 8 (8: austenitic stainless), lateral expansion of each piece counts instead.
 */
const B313_IMPACT_MINIMUMS = {
  rows: [
    { upToMPa: "448", fullyDeoxidised: true, averageJ: "18", singleJ: "14" },
    { upToMPa: "448", fullyDeoxidised: false, averageJ: "14", singleJ: "10" },
    { upToMPa: "517", fullyDeoxidised: true, averageJ: "20", singleJ: "16" },
    { upToMPa: "517", fullyDeoxidised: false, averageJ: "18", singleJ: "14" },
    { upToMPa: undefined, fullyDeoxidised: true, averageJ: "27", singleJ: "20" },
  ],
  lateralExpansionFromMPa: "656",
  lateralExpansionMm: "0.38",
  source: { standard: "ASME B31.3", edition: "2016", clause: "Table 323.3.5" },
  known: { how: "seen", sources: 1 } satisfies Known,
} as const;

export type B313Minimum =
  | { readonly kind: "energy"; readonly averageJ: Decimal; readonly singleJ: Decimal }
  | { readonly kind: "lateral expansion"; readonly eachMm: Decimal };

/** The minimum for a material, or undefined where the table has no row (not fully deoxidised above 517 MPa). */
export function b313ImpactMinimum(material: {
  readonly minimumTensileMPa: Decimal;
  readonly fullyDeoxidised: boolean;
  readonly pNumber?: number;
}): B313Minimum | undefined {
  const { rows, lateralExpansionFromMPa, lateralExpansionMm } = B313_IMPACT_MINIMUMS;
  const strong = compare(material.minimumTensileMPa, decimal(lateralExpansionFromMPa)) >= 0;
  if (strong || [6, 7, 8].includes(material.pNumber ?? 0)) {
    return { kind: "lateral expansion", eachMm: decimal(lateralExpansionMm) };
  }
  const row = rows.find(
    (candidate) =>
      candidate.fullyDeoxidised === material.fullyDeoxidised && reaches(candidate.upToMPa, material.minimumTensileMPa),
  );
  return row && { kind: "energy", averageJ: decimal(row.averageJ), singleJ: decimal(row.singleJ) };
}

/** The last row has no upper end of its own: from 656 MPa lateral expansion counts. */
function reaches(upToMPa: string | undefined, tensileMPa: Decimal): boolean {
  return upToMPa === undefined || compare(tensileMPa, decimal(upToMPa)) <= 0;
}
