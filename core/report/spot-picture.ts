import { CONFIDENCE_THRESHOLD } from "../certificate/certificate.js";
import type { Evidence } from "../certificate/evidence.js";
import type { Outcome } from "../verdict/finding.js";
import type { Report, ReportHeat } from "./report.js";

/** A place on a page of a PDF or an image: only there is something to see. */
export type Spot = Extract<Evidence, { page: number }>;

/** What the document shows at a spot, for a person to compare with what was read there. It is no part of the report. */
export interface SpotPicture {
  readonly spot: Spot;
  readonly picture: Picture | NoPicture;
}

export interface Picture {
  /** PNG, base64. */
  readonly png: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** not-made: the page could not be drawn in time. too-many: those before it took the room there is. */
export type NoPicture = "not-made" | "too-many";

/** Every spot worth a picture, once, those first that a person should look at first. */
export function spotsToPicture({ heats, documents }: Report): readonly Spot[] {
  const readings = heats.flatMap((heat) => heat.readings);
  const evidences = [
    ...heats.filter(isHeatNumberInDoubt).flatMap(({ evidence = [] }) => evidence),
    ...readings.filter(({ confidence }) => confidence < CONFIDENCE_THRESHOLD).map(({ evidence }) => evidence),
    ...documents.flatMap(({ doubts }) => doubts.flatMap(({ evidence }) => evidence ?? [])),
    ...heats.flatMap((heat) => evidenceOf(heat, ["fail", "undetermined"])),
    ...heats.flatMap((heat) => evidenceOf(heat, ["pass", "not-applicable"])),
  ];
  return [...new Map(evidences.filter(isSpot).map((spot) => [spotKey(spot), spot])).values()];
}

/** A finding that rests on no reading: what is in doubt is the name of the heat. */
export function isHeatNumberInDoubt({ findings }: ReportHeat): boolean {
  return findings.some(({ quantity, outcome }) => quantity === "heat number" && outcome === "undetermined");
}

function evidenceOf({ findings, readings }: ReportHeat, outcomes: readonly Outcome[]): readonly Evidence[] {
  const held = findings.filter(({ outcome }) => outcomes.includes(outcome));
  const ids = new Set(held.flatMap((finding) => finding.readings));
  return readings.filter(({ id }) => ids.has(id)).map(({ evidence }) => evidence);
}

export function isSpot(evidence: Evidence): evidence is Spot {
  return "page" in evidence;
}

/** The same for two spots exactly when they are the same place. */
export function spotKey({ document, page, box }: Spot): string {
  return `${document} ${page} ${box.join(" ")}`;
}
