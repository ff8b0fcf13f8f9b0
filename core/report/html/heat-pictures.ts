import { isElement } from "../../quantity/quantity.js";
import type { Finding } from "../../verdict/finding.js";
import { heatTitle } from "../heat-title.js";
import { type ChemistryRow, drawChemistryPosition } from "../pictures/chemistry-position.js";
import { drawImpactSingles, type ImpactZone } from "../pictures/impact-singles.js";
import type { ReportHeat } from "../report.js";
import { type Html, html, trustedMarkup } from "./template.js";

/** What is seen faster than read: each element between its limits, and impact pieces against what is required of them. */
export function heatPictures(heat: ReportHeat, number: number): Html {
  const chemistry = chemistryRows(heat);
  const zones = impactZones(heat);
  return html`${
    chemistry.length > 0 &&
    figure(
      "Chemistry between its limits",
      drawChemistryPosition({ id: `heat-${number}-chemistry`, subject: chemistrySubject(heat), rows: chemistry }),
    )
  }${
    zones.length > 0 &&
    figure(
      "Impact energy by zone",
      drawImpactSingles({ id: `heat-${number}-impact`, subject: heatTitle(heat.heat), zones }),
    )
  }`;
}

/** On a narrow screen the picture keeps a readable size and is moved sideways, by keyboard too. */
function figure(name: string, svg: string): Html {
  return html`<div class="picture" role="group" aria-label="${name}" tabindex="0">${trustedMarkup(svg)}</div>\n`;
}

function chemistrySubject({ heat, grades }: ReportHeat): string {
  return grades[0] ? `${heatTitle(heat)}, limits of ${grades[0].name}` : heatTitle(heat);
}

/** One row per element, the heat analysis held to the first grade: more limits in one picture would blur it. */
function chemistryRows(heat: ReportHeat): readonly ChemistryRow[] {
  const owner = heat.grades[0]?.id ?? "requirement";
  const seen = new Set<string>();
  return heat.findings.flatMap((finding) => {
    const { limit, judged, quantity } = finding;
    if (!limit?.id.startsWith(`${owner}#`) || judged === undefined || !isElement(quantity)) return [];
    if (seen.has(quantity) || isBound(finding, heat)) return [];
    seen.add(quantity);
    return [
      {
        element: quantity,
        shown: judged,
        value: Number(judged),
        ...(limit.min !== undefined && { min: Number(limit.min), minShown: limit.min }),
        ...(limit.max !== undefined && { max: Number(limit.max), maxShown: limit.max }),
      },
    ];
  });
}

/** "<0.005" has no position of its own. */
function isBound(finding: Finding, heat: ReportHeat): boolean {
  return heat.readings.some(({ id, bound }) => bound !== undefined && finding.readings.includes(id));
}

const ZONES = ["base", "weld", "haz"] as const;

function impactZones(heat: ReportHeat): readonly ImpactZone[] {
  return ZONES.flatMap((zone) => {
    const findings = heat.findings.filter((finding) => finding.zone === zone && finding.unit === "J");
    const average = findings.find(({ quantity }) => quantity === "KV average");
    const single = findings.find(({ quantity }) => quantity === "KV single");
    const ids = (average ?? single)?.readings ?? [];
    const singlesJ = heat.readings
      .filter(({ id, statistic, bound, unit }) => {
        return ids.includes(id) && statistic !== "average" && bound === undefined && unit === "J";
      })
      .map(({ value }) => Number(value));
    if (singlesJ.length === 0) return [];
    return [
      {
        name: zone,
        singlesJ,
        ...(average?.judged !== undefined && { averageJ: Number(average.judged) }),
        ...(average?.limit?.min !== undefined && { requiredAverageJ: Number(average.limit.min) }),
        ...(single?.limit?.min !== undefined && { requiredSingleJ: Number(single.limit.min) }),
      },
    ];
  });
}
