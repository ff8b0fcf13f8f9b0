import type { Certificate, GradeClaim, NumberedReading, Product, Statement } from "./certificate.js";
import type { Evidence } from "./evidence.js";

/** One heat across the documents of a submission: what `joinHeats` makes and the judge takes. */
export interface JoinedHeat {
  /** As first printed. */
  readonly heat: string;
  /** Every place where a document names it. */
  readonly evidence: readonly Evidence[];
  /** In document order, then in reading order, and numbered so. */
  readonly readings: readonly NumberedReading[];
  readonly claims: readonly Statement<GradeClaim>[];
  /** One entry per document that says something of the product; they may disagree, which the judge reports. */
  readonly products: readonly Product[];
  /** Positions (from 0) of the documents that name this heat. */
  readonly documents: readonly number[];
  /** Lowest confidence of the statements that name the heat in the documents; below the threshold the join is in doubt. */
  readonly confidence: number;
}

export type DocumentCertificate = { readonly document: number; readonly certificate: Certificate };
