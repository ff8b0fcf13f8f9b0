import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { readdir, readFile, stat } from "node:fs/promises";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import type { z } from "zod";
import {
  type Grade,
  gradeSchema,
  type Library,
  type LibraryGrade,
  type ToleranceTable,
  toleranceTableSchema,
} from "../../core/grades/grade.js";

/** One thing wrong with one file. `pointer` is a JSON pointer (RFC 6901); empty for the file as a whole. */
export interface GradeFileFault {
  readonly file: string;
  readonly pointer: string;
  readonly message: string;
}

/** The library could not be loaded. Every fault of every file is listed, so that they can be mended in one go. */
export class GradeFileError extends Error {
  readonly code = "grade-file-invalid";

  constructor(readonly faults: readonly GradeFileFault[]) {
    super(
      faults.map((fault) => `${fault.file}${fault.pointer ? ` at ${fault.pointer}` : ""}: ${fault.message}`).join("\n"),
    );
    this.name = "GradeFileError";
  }
}

/** Folder of product-analysis tolerance tables beside the standards' folders. */
const TOLERANCES = "tolerances";
/** Files at the top of a library folder are not grades: sources.json, confirmations.json. */
const DEEPEST_FOLDER = 4;
const MAX_FILE_BYTES = 1_000_000;
const MAX_FILES = 10_000;

/**
 * Reads the bundled library and then the user's folders, all laid out as <standard>/<edition>/<grade>.json.
 * A file in a later folder takes the place of an earlier one with the same id. Throws a GradeFileError, never a part of a library.
 */
export async function loadLibrary(folders: readonly string[] = []): Promise<Library> {
  const grades = new Map<string, LibraryGrade>();
  const tolerances = new Map<string, ToleranceTable>();
  const faults: GradeFileFault[] = [];

  for (const folder of [bundledFolder(), ...folders]) {
    for (const file of await jsonFilesIn(folder, faults)) {
      const bytes = await readFile(file);
      const path = relative(folder, file)
        .split(sep)
        .join("/")
        .replace(/[.]json$/, "");
      if (path.startsWith(`${TOLERANCES}/`)) {
        const table = parseFile(file, bytes, toleranceTableSchema, faults);
        if (table && idIsPath(file, table.id, path.slice(TOLERANCES.length + 1), faults))
          tolerances.set(table.id, table);
      } else {
        const grade = parseFile<Grade>(file, bytes, gradeSchema, faults);
        if (grade && idIsPath(file, grade.id, path, faults)) grades.set(grade.id, { grade, digest: sha256(bytes) });
      }
    }
  }

  if (faults.length > 0) throw new GradeFileError(faults);
  // Sorted by id: a report must not depend on the order that a file system lists names in.
  return {
    grades: [...grades.values()].sort((left, right) => (left.grade.id < right.grade.id ? -1 : 1)),
    tolerances: [...tolerances.values()].sort((left, right) => (left.id < right.id ? -1 : 1)),
  };
}

/** core/grades/data of the package that this module belongs to, whether it runs from source or from dist. */
export function bundledFolder(from: string = dirname(fileURLToPath(import.meta.url))): string {
  for (let folder = from; ; folder = dirname(folder)) {
    const data = join(folder, "core", "grades", "data");
    if (existsSync(join(folder, "package.json")) && existsSync(data)) return data;
    if (folder === dirname(folder)) throw new Error(`no grade library above ${from}`);
  }
}

async function jsonFilesIn(folder: string, faults: GradeFileFault[]): Promise<string[]> {
  const files: string[] = [];
  const visit = async (current: string, depth: number): Promise<void> => {
    const entries = await readdir(current, { withFileTypes: true });
    for (const entry of entries.sort((left, right) => (left.name < right.name ? -1 : 1))) {
      const path = join(current, entry.name);
      if (entry.isDirectory() && depth < DEEPEST_FOLDER) await visit(path, depth + 1);
      if (!entry.isFile() || !entry.name.endsWith(".json") || depth === 0) continue;
      if (files.length >= MAX_FILES) return;
      if ((await stat(path)).size > MAX_FILE_BYTES) {
        faults.push({ file: path, pointer: "", message: `larger than ${MAX_FILE_BYTES} bytes` });
      } else {
        files.push(path);
      }
    }
  };
  try {
    await visit(folder, 0);
  } catch (error) {
    faults.push({ file: folder, pointer: "", message: `cannot be read: ${(error as Error).message}` });
  }
  if (files.length >= MAX_FILES) faults.push({ file: folder, pointer: "", message: `more than ${MAX_FILES} files` });
  return files;
}

function parseFile<T>(file: string, bytes: Uint8Array, schema: z.ZodType<T>, faults: GradeFileFault[]): T | undefined {
  let content: unknown;
  try {
    content = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch (error) {
    faults.push({ file, pointer: "", message: `not JSON: ${(error as Error).message}` });
    return undefined;
  }
  const result = schema.safeParse(content);
  if (result.success) return result.data;
  for (const issue of result.error.issues) {
    faults.push({ file, pointer: jsonPointer(issue.path), message: issue.message });
  }
  return undefined;
}

function idIsPath(file: string, id: string, path: string, faults: GradeFileFault[]): boolean {
  if (id === path) return true;
  faults.push({
    file,
    pointer: "/id",
    message: `is ${JSON.stringify(id)}, but the file stands at ${JSON.stringify(path)}`,
  });
  return false;
}

function jsonPointer(path: readonly PropertyKey[]): string {
  return path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}

function sha256(bytes: Uint8Array): string {
  return `sha256:${createHash("sha256").update(bytes).digest("hex")}`;
}
