import { type Corrections, correctionsSchema } from "../../core/certificate/corrections.js";
import { readJsonFile, unusable } from "./read-json-file.js";
import type { Terminal } from "./terminal.js";

const WHAT = "the corrections";

export function readCorrections(name: string, terminal: Terminal): Promise<Corrections> {
  return readJsonFile(WHAT, name, correctionsSchema, terminal);
}

/** A correction of a document that is not handed in would change nothing without a word; it is refused, as the service does. */
export function checkCorrectedDocuments(
  { items }: Corrections,
  name: string,
  documents: readonly { readonly name: string; readonly sha256: string }[],
): void {
  const known = new Set(documents.map(({ sha256 }) => sha256));
  const faults = items.flatMap(({ document }, index) =>
    known.has(document)
      ? []
      : [{ path: ["items", index, "document"], message: "is the SHA-256 of no document that is handed in" }],
  );
  if (faults.length === 0) return;
  const listed = documents.map((document) => `\n  ${document.sha256}  ${document.name}`).join("");
  const refusal = unusable(WHAT, name, faults);
  refusal.message += `\nThe file may have changed since its report. Handed in are:${listed}`;
  throw refusal;
}
