import type { Known } from "../grades/grade.js";
import { compare, type Decimal, decimal } from "../quantity/decimal.js";

/**
 * Austenitic stainless steel in cold service by ASME BPVC VIII-1 UHA-51, as far as it was seen: paragraph numbers and numbers
 * change with the edition, and the conditions for welds and heat-affected zones were not seen in full. Advice, not acceptance.
 */
const UHA51 = {
  /** Base metal of this carbon and MDMT needs no impact test: UHA-51(d), (g)(3)(a)(1) from 2021. */
  exemption: { carbonUpToPercent: decimal("0.10"), mdmtFromC: decimal("-196"), known: known("seen", 3) },
  /** For more carbon, as one program applies it. */
  exemptionAboveCarbon: { mdmtFromC: decimal("-48"), known: known("seen", 1) },
  lateralExpansion: { mdmtFromC: decimal("-196"), eachMm: decimal("0.38"), known: known("memory", 0) },
  /** Colder than that: tested at -196 °C, and more expansion. */
  lateralExpansionColder: { testC: decimal("-196"), eachMm: decimal("0.53"), known: known("seen", 2) },
} as const;

/** Whether austenitic base metal is exempt from impact tests at a minimum design metal temperature. */
export function isBaseMetalExempt(carbonPercent: Decimal, mdmtC: Decimal): boolean {
  const { exemption, exemptionAboveCarbon } = UHA51;
  const lowCarbon = compare(carbonPercent, exemption.carbonUpToPercent) <= 0;
  return compare(mdmtC, (lowCarbon ? exemption : exemptionAboveCarbon).mdmtFromC) >= 0;
}

/** The lateral expansion that each of three pieces of weld metal must reach. */
export function lateralExpansionMinimum(mdmtC: Decimal): { readonly eachMm: Decimal; readonly known: Known } {
  const { lateralExpansion, lateralExpansionColder } = UHA51;
  return compare(mdmtC, lateralExpansion.mdmtFromC) >= 0 ? lateralExpansion : lateralExpansionColder;
}

function known(how: "seen" | "memory", sources: number): Known {
  return { how, sources };
}
