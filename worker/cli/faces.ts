import { renderHtml } from "../../core/report/html.js";
import { renderJunit } from "../../core/report/junit.js";
import type { Report } from "../../core/report/report.js";
import { renderSarif } from "../../core/report/sarif.js";
import type { SpotPicture } from "../../core/report/spot-picture.js";
import { renderText } from "../../core/report/text.js";
import { renderXlsx } from "../store/report-xlsx.js";

export interface Face {
  readonly report: Report;
  readonly pictures: readonly SpotPicture[];
  /** The report as canonical JSON, and its SHA-256. */
  readonly json: string;
  readonly digest: string;
  readonly colour: boolean;
}

/** The forms that a report can be printed in. The JSON is the one that the service answers with, byte for byte. */
export const FACES = {
  text: ({ report, colour }) => renderText(report, { colour }),
  json: ({ json }) => json,
  html: ({ report, digest, pictures }) => renderHtml(report, digest, pictures),
  junit: ({ report }) => renderJunit(report),
  sarif: ({ report }) => renderSarif(report),
  xlsx: ({ report, digest }) => renderXlsx(report, digest),
} as const satisfies Record<string, (face: Face) => string | Promise<Uint8Array>>;

export type Format = keyof typeof FACES;

export function isFormat(text: string): text is Format {
  return Object.hasOwn(FACES, text);
}
