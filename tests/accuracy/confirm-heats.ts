import { createHash } from "node:crypto";
import type { Certificate } from "../../core/certificate/certificate.js";
import { applyCorrections, type Corrections } from "../../core/certificate/corrections.js";
import { normaliseHeatNumber } from "../../core/certificate/heat-number.js";
import { cellsOf, type Paper } from "./paper.js";
import type { Rendered } from "./render/rendered.js";
import { spotAt } from "./spots.js";

export interface HeatNumbers {
  /** Heats that the paper names. */
  readonly named: number;
  /** Of these, read rightly before anybody looked. */
  readonly right: number;
  /** Names that are not on the paper, read for sure. */
  readonly silentlyWrong: readonly string[];
}

/** What was read of the heats' names, before an inspector confirms them. */
export function countHeatNumbers(paper: Paper, certificate: Certificate): HeatNumbers {
  const names = paper.parts
    .flatMap(cellsOf)
    .flatMap(({ heat }) => (heat === undefined ? [] : [normaliseHeatNumber(heat)]));
  const named = new Set(names);
  const read = certificate.heats.map(({ heat }) => ({ ...heat, name: normaliseHeatNumber(heat.value) }));
  return {
    named: named.size,
    right: new Set(read.filter(({ name }) => named.has(name)).map(({ name }) => name)).size,
    silentlyWrong: read
      .filter(({ name, confidence }) => !named.has(name) && confidence >= 0.85)
      .map(({ value }) => `heat ${value}`),
  };
}

/**
 * What an inspector does with a scan: looks at each heat number that is not sure and says what stands there. It goes through
 * the corrections that the service takes; a heat whose place shows no heat number stays as it is.
 */
export function confirmHeats(certificate: Certificate, rendered: Rendered): Certificate {
  const items = certificate.heats.flatMap(({ heat }): Corrections["items"] => {
    const { document: _document, ...evidence } = heat.evidence;
    const name = heat.confidence < 1 ? spotAt(rendered, heat.evidence)?.cell.heat : undefined;
    return name === undefined
      ? []
      : [{ document: sha256, evidence, quantity: "heat", value: name } as Corrections["items"][0]];
  });
  if (items.length === 0) return certificate;
  return applyCorrections(certificate, 0, sha256, { corrections: 1, by: "Inspector", date: "2026-11-25", items });
}

const sha256 = createHash("sha256").update("the only document").digest("hex");
