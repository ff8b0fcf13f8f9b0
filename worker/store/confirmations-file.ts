import { existsSync } from "node:fs";
import { mkdir, readFile, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { type Confirmation, type Confirmations, confirmationsSchema } from "../../core/grades/confirmation.js";
import { CONFIRMATIONS_FILE, GradeFileError } from "./grade-files.js";
import { type GradeFileFault, parseJson } from "./library-json.js";

/** Puts a confirmation into a folder's confirmations.json, in the place of an earlier one of the same limit. Returns the file. */
export async function keepConfirmation(folder: string, confirmation: Confirmation): Promise<string> {
  const file = join(folder, CONFIRMATIONS_FILE);
  const kept = await readConfirmations(file);
  const limits = [...kept.limits.filter(({ limit }) => limit !== confirmation.limit), confirmation].sort(
    (left, right) => (left.limit < right.limit ? -1 : 1),
  );
  await mkdir(folder, { recursive: true });
  // Written beside and moved: a crash leaves the old file or the new one, never half of one.
  const unfinished = `${file}.${process.pid}.unfinished`;
  await writeFile(unfinished, `${JSON.stringify({ confirmations: 1, limits }, null, 2)}\n`);
  await rename(unfinished, file);
  return file;
}

async function readConfirmations(file: string): Promise<Confirmations> {
  if (!existsSync(file)) return { confirmations: 1, limits: [] };
  const faults: GradeFileFault[] = [];
  const kept = parseJson(file, await readFile(file), confirmationsSchema, faults);
  if (!kept) throw new GradeFileError(faults);
  return kept;
}
