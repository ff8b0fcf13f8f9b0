import { readCertificate } from "../../core/recogniser/read-certificate.js";
import { DEFAULT_BUDGETS } from "../../worker/readers/budgets.js";
import { createMeter } from "../../worker/readers/meter.js";
import { unpackDocument } from "../../worker/readers/packed-document.js";
import { readBytes } from "../../worker/readers/read-bytes.js";
import { confirmHeats, countHeatNumbers, type HeatNumbers } from "./confirm-heats.js";
import type { Paper } from "./paper.js";
import { createRandom } from "./random.js";
import type { Renderer } from "./render/rendered.js";
import { type Score, scoreCertificate } from "./score.js";

export interface Outcome {
  readonly score: Score;
  readonly heats: HeatNumbers;
  readonly doubts: readonly string[];
}

/** Draws a paper, reads it as the service does, and holds what was read against the paper. */
export async function scorePaper(paper: Paper, render: Renderer): Promise<Outcome> {
  const drawn = await render(paper, createRandom(paper.seed + 1));
  const { name, bytes, typed } = drawn;
  const packed = await readBytes(bytes, { name, mediaType: "application/octet-stream" }, createMeter(DEFAULT_BUDGETS));
  const rendered = typed && packed.reader === "text" ? { ...drawn, spots: typed } : drawn;
  const certificate = readCertificate(unpackDocument(packed), 0);
  return {
    score: scoreCertificate(confirmHeats(certificate, rendered), paper, rendered),
    heats: countHeatNumbers(paper, certificate),
    doubts: certificate.doubts.map(({ message }) => message),
  };
}
