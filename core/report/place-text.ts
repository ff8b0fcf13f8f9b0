import { describePlace, type Evidence } from "../certificate/evidence.js";
import type { Report } from "./report.js";

/** "cert-4471.xlsx, sheet Analysis, cell D7": a place that a person can go to. */
export function placeText(evidence: Evidence, report: Report): string {
  return `${documentName(evidence, report)}, ${describePlace(evidence)}`;
}

/** Several places in few words: "cert-4471.xlsx, sheet HAZ, cells C7, C8, C9". */
export function placesText(evidences: readonly Evidence[], report: Report): string {
  const groups = new Map<string, { readonly one: string; readonly many: string; readonly details: string[] }>();
  for (const evidence of evidences) {
    const { common, one, many, detail } = splitPlace(evidence);
    const key = `${documentName(evidence, report)}, ${common}`;
    const group = groups.get(key) ?? { one, many, details: [] };
    groups.set(key, group);
    if (detail !== "" && !group.details.includes(detail)) group.details.push(detail);
  }
  return [...groups]
    .map(([key, { one, many, details }]) => {
      if (details.length === 0) return key;
      return `${key}${details.length === 1 ? one : many} ${details.join(", ")}`;
    })
    .join("; ");
}

/** What places may share, and what tells them apart. */
function splitPlace(place: Evidence) {
  if ("sheet" in place) return { common: `sheet ${place.sheet}`, one: ", cell", many: ", cells", detail: place.cell };
  if ("line" in place) {
    return { common: `line ${place.line}`, one: ", column", many: ", columns", detail: String(place.column) };
  }
  return { common: describePlace(place), one: "", many: "", detail: "" };
}

function documentName({ document }: Evidence, report: Report): string {
  return report.documents[document]?.name ?? `document ${document + 1}`;
}
