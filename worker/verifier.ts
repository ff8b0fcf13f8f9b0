import { recognise } from "../core/recogniser/recognise.js";
import { buildReport } from "../core/report/build-report.js";
import type { Verifier } from "./jobs/verify-documents.js";
import { createReader } from "./readers/read-document.js";
import { loadLibrary } from "./store/grade-files.js";

export interface VerifierSettings {
  /** Documents read at the same time, each by a process of its own. */
  readonly children: number;
  /** The user's own grade files, which take the place of built-in ones with the same id. */
  readonly gradeFolders: readonly string[];
}

export interface OpenVerifier extends Verifier {
  /** Ends the reading processes. */
  close(): Promise<void>;
}

/** Puts reader, recogniser, judge and library together: the same parts for the service and for the batch command. */
export async function openVerifier({ children, gradeFolders }: VerifierSettings): Promise<OpenVerifier> {
  const library = await loadLibrary(gradeFolders);
  const reader = createReader({ children });
  return {
    read: (path, hint) => reader.read(path, hint),
    recognise,
    buildReport,
    library,
    close: () => reader.close(),
  };
}
