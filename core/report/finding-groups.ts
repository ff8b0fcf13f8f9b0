import { isQuantity, kindOf } from "../quantity/quantity.js";
import type { Finding } from "../verdict/finding.js";
import type { ReportHeat } from "./report.js";

export interface FindingGroup {
  readonly title: string;
  readonly findings: readonly Finding[];
}

const TITLES_IN_ORDER = [
  "Chemistry",
  "Tensile test",
  "Hardness",
  "Impact, base metal",
  "Impact, weld",
  "Impact, heat-affected zone",
  "Impact",
  "Computed from chemistry",
  "Inspection document",
  "Grade",
  "Consistency",
  "Other",
] as const;
type Title = (typeof TITLES_IN_ORDER)[number];

const ZONE_TITLES = {
  base: "Impact, base metal",
  weld: "Impact, weld",
  haz: "Impact, heat-affected zone",
} as const;

/** A heat's findings in the order in which a person checks a certificate. Within a group they keep the judge's order. */
export function groupFindings(heat: ReportHeat): readonly FindingGroup[] {
  const groups = new Map<Title, Finding[]>(TITLES_IN_ORDER.map((title) => [title, []]));
  for (const finding of heat.findings) groups.get(titleOf(finding, heat))!.push(finding);
  return [...groups].filter(([, findings]) => findings.length > 0).map(([title, findings]) => ({ title, findings }));
}

function titleOf(finding: Finding, heat: ReportHeat): Title {
  // "KV single" and "Cu+Ni+Cr+Mo" belong where their first symbol does.
  const [quantity = ""] = finding.quantity.split(/[ +]/);
  if (isQuantity(quantity)) {
    const kind = kindOf(quantity);
    if (kind === "chemistry") return "Chemistry";
    if (kind === "hardness") return "Hardness";
    if (kind === "index") return "Computed from chemistry";
    if (kind === "impact") return impactTitle(finding, heat);
    return "Tensile test";
  }
  if (quantity.startsWith("document")) return "Inspection document";
  if (quantity.startsWith("grade")) return "Grade";
  if (quantity.startsWith("consistency")) return "Consistency";
  return "Other";
}

function impactTitle(finding: Finding, heat: ReportHeat): Title {
  const zone = finding.zone ?? heat.readings.find(({ id, zone }) => zone && finding.readings.includes(id))?.zone;
  return zone ? ZONE_TITLES[zone] : "Impact";
}
