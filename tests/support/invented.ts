import { createHash, randomUUID } from "node:crypto";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Report } from "../../core/report/report.js";
import type { Verifier } from "../../worker/jobs/verify-documents.js";
import type { DocumentStore, NewSubmission, StoredDocument } from "../../worker/store/records.js";

export async function temporaryFolder(): Promise<{ path: string; remove(): Promise<void> }> {
  const path = await mkdtemp(join(tmpdir(), "heatgate-"));
  return { path, remove: () => rm(path, { recursive: true, force: true }) };
}

export const sha256 = (text: string) => createHash("sha256").update(text).digest("hex");

/** Puts a text into the store as a document. */
export async function storeDocument(documents: DocumentStore, folder: string, text: string): Promise<StoredDocument> {
  const path = join(folder, randomUUID());
  await writeFile(path, text);
  await documents.put(sha256(text), path);
  await rm(path);
  return { name: "cert.csv", sha256: sha256(text), bytes: text.length, mediaType: "text/csv" };
}

export function newSubmission(documents: readonly StoredDocument[], more: Partial<NewSubmission> = {}): NewSubmission {
  return { requirement: null, documents, ...more };
}

/** A document that no store has; for tests in which nobody reads it. */
export const UNREAD_DOCUMENT: StoredDocument = {
  name: "cert.csv",
  sha256: sha256("never read"),
  bytes: 10,
  mediaType: "text/csv",
};

/** Judges nothing: the report names the documents it was given, and the verdict is always undetermined. */
export function namingVerifier(read: Verifier["read"] = readNothing): Verifier {
  return {
    read,
    crop: async () => ({ ok: true, pictures: [] }),
    recognise: () => ({ heats: [], doubts: [] }),
    buildReport: (input): Report => ({
      report: 1,
      verdict: "undetermined",
      requirement: null,
      documents: input.documents.map(({ name, sha256, reader, content }) => ({
        name,
        sha256,
        reader,
        doubts: [],
        ...(content.kind === "problem" && { notes: [content.code] }),
      })),
      heats: [],
      library: [],
      cautions: [],
    }),
    library: { grades: [], tolerances: [] },
  };
}

const readNothing: Verifier["read"] = async () => ({
  ok: true,
  document: { reader: "csv", tables: [], doubts: [] },
});
