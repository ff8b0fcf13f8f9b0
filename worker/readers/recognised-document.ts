import type { Certificate } from "../../core/certificate/certificate.js";
import type { ReadDocument } from "../../core/recogniser/cells.js";
import { readCertificate } from "../../core/recogniser/read-certificate.js";
import { digitsAsText, digitsFromText } from "../digits.js";
import { type PackedDocument, unpackDocument } from "./packed-document.js";

/** Our own code failed on a document that was read. */
export class RecogniserFault extends Error {
  override readonly name = "RecogniserFault";
}

/** A document without its cells, and what it says, as text until somebody asks for it. */
export type RecognisedDocument = Omit<ReadDocument, "tables" | "tree" | "doubts"> & { readonly recognised: string };

/**
 * Two lines: what is known of the document, and its certificate. Recognising happens where reading does, in the child with its budgets: some
 * of its patterns take time that grows with the square of a text's length. Throws `RecogniserFault`.
 */
export function* recognisedLines(packed: PackedDocument, position: number): Generator<string> {
  const { tables: _tables, tree: _tree, doubts: _doubts, ...known } = packed;
  const certificate = recogniseOrFault(unpackDocument(packed), position);
  yield JSON.stringify(known);
  yield JSON.stringify(certificate, digitsAsText);
}

function recogniseOrFault(document: ReadDocument, position: number): Certificate {
  try {
    return readCertificate(document, position);
  } catch (cause) {
    throw new RecogniserFault(cause instanceof Error ? cause.message : String(cause), { cause });
  }
}

export function unpackCertificate({ recognised }: RecognisedDocument): Certificate {
  return JSON.parse(recognised, digitsFromText) as Certificate;
}
