import { readCertificate } from "../core/recogniser/read-certificate.js";
import { buildReport } from "../core/report/build-report.js";
import type { Verifier } from "./jobs/verify-documents.js";
import { createReader, type ReaderOptions } from "./readers/read-document.js";
import { loadLibrary } from "./store/grade-files.js";

export interface VerifierOptions extends ReaderOptions {
  /** Folders of grade files beside the bundled ones; a file there takes the place of a bundled one with the same id. */
  readonly gradeFolders?: readonly string[];
}

/** The real parts: readers in child processes, the recogniser, the judge, and the grades as they stand on disk now. */
export async function createVerifier(options: VerifierOptions = {}): Promise<Verifier & { close(): Promise<void> }> {
  const library = await loadLibrary(options.gradeFolders);
  const reader = createReader(options);
  return {
    read: (path, hint) => reader.read(path, hint),
    crop: (path, hint, places) => reader.crop(path, hint, places),
    recognise: readCertificate,
    buildReport,
    library,
    close: () => reader.close(),
  };
}
