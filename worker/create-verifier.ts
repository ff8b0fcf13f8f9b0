import { readCertificate } from "../core/recogniser/read-certificate.js";
import { buildReport } from "../core/report/build-report.js";
import { type Verifier, VerifierFault } from "./jobs/verify-documents.js";
import { createReader, type ReaderOptions } from "./readers/read-document.js";
import { RecogniserFault, unpackCertificate } from "./readers/recognised-document.js";
import { loadLibrary } from "./store/grade-files.js";

export interface VerifierOptions extends ReaderOptions {
  /** Folders of grade files beside the bundled ones; a file there takes the place of a bundled one with the same id. */
  readonly gradeFolders?: readonly string[];
}

/** The real parts: readers and the recogniser in child processes, the judge, and the grades as they stand on disk now. */
export async function createVerifier(options: VerifierOptions = {}): Promise<Verifier & { close(): Promise<void> }> {
  const library = await loadLibrary(options.gradeFolders);
  const reader = createReader(options);
  return {
    read: orFault((path, hint, position) => reader.recognise(path, hint, position)),
    crop: (path, hint, places) => reader.crop(path, hint, places),
    recognise: (document, position) =>
      "recognised" in document ? unpackCertificate(document) : readCertificate(document, position),
    buildReport,
    library,
    close: () => reader.close(),
  };
}

function orFault(read: Verifier["read"]): Verifier["read"] {
  return async (...given) => {
    try {
      return await read(...given);
    } catch (cause) {
      throw cause instanceof RecogniserFault ? new VerifierFault(cause.message, { cause }) : cause;
    }
  };
}
