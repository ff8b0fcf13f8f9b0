import { stat } from "node:fs/promises";
import type { Place } from "../../core/certificate/evidence.js";
import { DEFAULT_BUDGETS, type ReadBudgets } from "./budgets.js";
import { createUnpacker } from "./packed-document.js";
import { type ReadProblem, readProblem } from "./problem.js";
import { createChildPool } from "./process/child-pool.js";
import type { DocumentHint, ReadResult } from "./read-result.js";
import { type RecognisedDocument, RecogniserFault } from "./recognised-document.js";

export type { DocumentHint, ReadResult };

export interface ReaderOptions {
  /** Documents read at the same time; each has a process of its own, started beforehand. */
  readonly children?: number;
  /** A child is replaced after so many documents, and after any failure. */
  readonly documentsPerChild?: number;
  readonly budgets?: Partial<ReadBudgets>;
}

export interface DocumentReader {
  /** Never throws because of the document: what cannot be read comes back as a problem with what to do. */
  read(bytesPath: string, hint: DocumentHint): Promise<ReadResult>;
  /** As `read`, and recognised in the child as the document at this place of its submission. Throws `RecogniserFault`. */
  recognise(bytesPath: string, hint: DocumentHint, position: number): Promise<RecogniseResult>;
  /** PNG pictures of places on the pages of a PDF or an image; undefined for other places. Within a time of its own. */
  crop(bytesPath: string, hint: DocumentHint, places: readonly Place[]): Promise<CropResult>;
  close(): Promise<void>;
}

export type RecogniseResult =
  | { readonly ok: true; readonly document: RecognisedDocument }
  | { readonly ok: false; readonly problem: ReadProblem };

export type CropResult =
  | { readonly ok: true; readonly pictures: readonly (Uint8Array | undefined)[] }
  | { readonly ok: false; readonly problem: ReadProblem };

/**
 * Reads untrusted documents in disposable child processes. A thread would not do: running out of memory in one ends the whole
 * process, and a parser that never returns can only be stopped from outside.
 */
export function createReader(options: ReaderOptions = {}): DocumentReader {
  const budgets: ReadBudgets = { ...DEFAULT_BUDGETS, ...options.budgets };
  const pool = createChildPool({
    children: options.children ?? 2,
    documentsPerChild: options.documentsPerChild ?? 50,
    budgets,
  });

  return {
    async read(bytesPath, hint) {
      const refusal = await refusalBySize(bytesPath, budgets);
      if (refusal) return { ok: false, problem: refusal };
      const unpacker = createUnpacker();
      const answer = await pool.run({ path: bytesPath, hint, budgets }, unpacker.take);
      return answer.ok ? { ok: true, document: unpacker.finish() } : answer;
    },
    async recognise(bytesPath, hint, position) {
      const refusal = await refusalBySize(bytesPath, budgets);
      if (refusal) return { ok: false, problem: refusal };
      const lines: string[] = [];
      const answer = await pool.run({ path: bytesPath, hint, budgets, position }, (line) => lines.push(line));
      if (!answer.ok) {
        if (answer.fault !== undefined) throw new RecogniserFault(answer.fault);
        return answer;
      }
      const [known, recognised] = lines as [string, string];
      return { ok: true, document: { ...(JSON.parse(known) as Omit<RecognisedDocument, "recognised">), recognised } };
    },
    async crop(bytesPath, hint, places) {
      const pictures: (Uint8Array | undefined)[] = [];
      const job = { path: bytesPath, hint, budgets: { ...budgets, wallMs: budgets.cropMs }, crop: places };
      const answer = await pool.run(job, (line) => {
        const picture = JSON.parse(line) as string | null;
        pictures.push(picture === null ? undefined : Buffer.from(picture, "base64"));
      });
      return answer.ok ? { ok: true, pictures } : answer;
    },
    close: () => pool.close(),
  };
}

async function refusalBySize(bytesPath: string, { fileBytes }: ReadBudgets): Promise<ReadProblem | undefined> {
  const { size } = await stat(bytesPath);
  if (size === 0) return readProblem("empty-file", "The file is empty.");
  if (size <= fileBytes) return undefined;
  return readProblem("too-large", `The file has ${size} bytes; ${fileBytes} are allowed.`);
}
