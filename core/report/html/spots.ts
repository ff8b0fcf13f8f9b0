import { CONFIDENCE_THRESHOLD } from "../../certificate/certificate.js";
import type { Evidence } from "../../certificate/evidence.js";
import { placeText } from "../place-text.js";
import type { Report, ReportHeat, ReportReading } from "../report.js";
import {
  isHeatNumberInDoubt,
  isSpot,
  type NoPicture,
  type Picture,
  type SpotPicture,
  spotKey,
} from "../spot-picture.js";
import { nameOf } from "../wording/names.js";
import { type Html, html } from "./template.js";

/** Finds the picture of a place. undefined: the place is on no page, or nobody asked for its picture. */
export type FindPicture = (evidence: Evidence) => Picture | NoPicture | undefined;

export function pictureFinder(pictures: readonly SpotPicture[]): FindPicture {
  const known = new Map(pictures.map(({ spot, picture }) => [spotKey(spot), picture]));
  return (evidence) => (isSpot(evidence) ? known.get(spotKey(evidence)) : undefined);
}

/** What a person has to compare stands with the verdict, each beside what the document shows. */
export function spotsToCompare(heat: ReportHeat, number: number, report: Report, find: FindPicture): Html | false {
  const items = [...namesToCompare(heat), ...readingsToCompare(heat, number)].filter(
    ({ evidence }) => find(evidence) !== undefined,
  );
  if (items.length === 0) return false;
  return html`<h3>Compare with the document</h3>
<p class="from">Cut out of the documents, the least certain first; the frame marks what was read.</p>
<ul class="spots">
${items.map(
  ({ id, what, certainty, evidence }) => html`<li${id && html` id="${id}"`}>${spotPicture(evidence, what, report, find)}
<p>${what}${certainty}</p>
<p class="from">${placeText(evidence, report)}</p></li>
`,
)}</ul>
`;
}

interface ToCompare {
  readonly id?: string;
  readonly what: string;
  readonly certainty: string;
  readonly evidence: Evidence;
}

function namesToCompare(heat: ReportHeat): readonly ToCompare[] {
  if (!isHeatNumberInDoubt(heat) || !heat.evidence) return [];
  return heat.evidence.map((evidence) => ({ what: `Heat number, read as “${heat.heat}”`, certainty: "", evidence }));
}

function readingsToCompare(heat: ReportHeat, number: number): readonly ToCompare[] {
  return heat.readings
    .filter((reading) => isToCompare(reading, heat))
    .sort((left, right) => left.confidence - right.confidence)
    .map((reading) => ({
      id: `heat-${number}-spot-${reading.id}`,
      what: whatWasRead(reading),
      certainty: reading.confidence >= 1 ? "" : `, ${Math.floor(reading.confidence * 100)}\u00a0% certain`,
      evidence: reading.evidence,
    }));
}

/** For the table of all readings: the picture, or the way to it where it stands above. */
export function spotInTable(
  reading: ReportReading,
  heat: ReportHeat,
  number: number,
  report: Report,
  find: FindPicture,
): Html | false {
  if (find(reading.evidence) === undefined) return false;
  if (isToCompare(reading, heat)) return html` <a href="#heat-${number}-spot-${reading.id}">picture</a>`;
  return html` ${spotPicture(reading.evidence, whatWasRead(reading), report, find)}`;
}

function isToCompare({ id, confidence }: ReportReading, { findings }: ReportHeat): boolean {
  const isOpen = findings.some(
    ({ outcome, readings }) => (outcome === "fail" || outcome === "undetermined") && readings.includes(id),
  );
  return isOpen || confidence < CONFIDENCE_THRESHOLD;
}

function whatWasRead({ quantity, printed }: ReportReading): string {
  return `${nameOf(quantity)}, read as “${printed}”`;
}

const WHY_NOT: Readonly<Record<NoPicture, string>> = {
  "not-made": "No picture: the page could not be drawn in the time allowed. Look at the document itself.",
  "too-many": "No picture: the report has room only for those before it. Look at the document itself.",
};

/** The picture of one place, or why there is none; `words` say what was read, for who cannot see it. */
export function spotPicture(evidence: Evidence, words: string, report: Report, find: FindPicture): Html | false {
  const found = find(evidence);
  if (found === undefined) return false;
  if (typeof found === "string") return html`<span class="from no-picture">${WHY_NOT[found]}</span>`;
  const { png, widthPx, heightPx } = found;
  return html`<img class="spot" src="data:image/png;base64,${png}" width="${widthPx}" height="${heightPx}" alt="${words}, in ${placeText(evidence, report)}">`;
}
