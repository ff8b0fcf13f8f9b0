import { readdir, readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import type { z } from "zod";
import { REPEATED, repeatedName } from "./repeated-name.js";

/** One thing wrong with one file. `pointer` is a JSON pointer (RFC 6901); empty for the file as a whole. */
export interface GradeFileFault {
  readonly file: string;
  readonly pointer: string;
  readonly message: string;
}

const DEEPEST_FOLDER = 4;
const MAX_FILE_BYTES = 1_000_000;
const MAX_FILES = 10_000;

/**
 * JSON files below a library folder, in order of their names. Those at its top are not grades: sources.json, confirmations.json.
 * Links are not followed.
 */
export async function jsonFilesBelow(folder: string, faults: GradeFileFault[]): Promise<string[]> {
  const files: string[] = [];
  const visit = async (current: string, depth: number): Promise<void> => {
    const entries = await readdir(current, { withFileTypes: true });
    for (const entry of entries.sort((left, right) => (left.name < right.name ? -1 : 1))) {
      const path = join(current, entry.name);
      if (entry.isDirectory() && depth < DEEPEST_FOLDER) await visit(path, depth + 1);
      if (entry.isFile() && entry.name.endsWith(".json") && depth > 0) files.push(path);
      if (files.length > MAX_FILES) throw new Error(`more than ${MAX_FILES} files`);
    }
  };
  try {
    await visit(folder, 0);
  } catch (error) {
    faults.push({ file: folder, pointer: "", message: `cannot be read: ${(error as Error).message}` });
  }
  return files;
}

/** The bytes of a file of sensible size; undefined, with a fault, for any other. */
export async function readSmallFile(file: string, faults: GradeFileFault[]): Promise<Uint8Array | undefined> {
  if ((await stat(file)).size <= MAX_FILE_BYTES) return readFile(file);
  faults.push({ file, pointer: "", message: `larger than ${MAX_FILE_BYTES} bytes` });
  return undefined;
}

export function parseJson<T>(
  file: string,
  bytes: Uint8Array,
  schema: z.ZodType<T>,
  faults: GradeFileFault[],
): T | undefined {
  let content: unknown;
  let repeated: readonly string[] | undefined;
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    content = JSON.parse(text);
    repeated = repeatedName(text);
  } catch (error) {
    faults.push({ file, pointer: "", message: `not JSON: ${(error as Error).message}` });
    return undefined;
  }
  if (repeated) {
    faults.push({ file, pointer: jsonPointer(repeated), message: REPEATED });
    return undefined;
  }
  const result = schema.safeParse(content);
  if (result.success) return result.data;
  for (const issue of result.error.issues) faults.push(...faultsOf(file, issue));
  return undefined;
}

/** A name that does not belong is pointed at by itself, so that nobody need search for it. */
function faultsOf(file: string, issue: z.core.$ZodIssue): readonly GradeFileFault[] {
  if (issue.code !== "unrecognized_keys") {
    return [{ file, pointer: jsonPointer(issue.path), message: issue.message }];
  }
  return issue.keys.map((key) => ({
    file,
    pointer: jsonPointer([...issue.path, key]),
    message: "is not a known name here; leave it out",
  }));
}

function jsonPointer(path: readonly PropertyKey[]): string {
  return path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}
