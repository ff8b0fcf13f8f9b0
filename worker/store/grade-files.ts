import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { applyConfirmations, confirmationsSchema } from "../../core/grades/confirmation.js";
import {
  type Grade,
  gradeSchema,
  type Library,
  type LibraryGrade,
  type ToleranceTable,
  toleranceTableSchema,
} from "../../core/grades/grade.js";
import { deadReferences } from "./grade-references.js";
import { type GradeFileFault, jsonFilesBelow, parseJson, readSmallFile } from "./library-json.js";

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
const TOLERANCES = "tolerances/";
export const CONFIRMATIONS_FILE = "confirmations.json";

/**
 * Reads the bundled library and then the user's folders, all laid out as <standard>/<edition>/<grade>.json. A file in a later folder takes
 * the place of an earlier one with the same id; confirmations of all folders are applied last. Throws a GradeFileError, never a part of a
 * library.
 */
export async function loadLibrary(folders: readonly string[] = []): Promise<Library> {
  const faults: GradeFileFault[] = [];
  const library = await readGradeFiles(folders, faults);
  const confirmed = await withConfirmations(library, folders, faults);
  if (faults.length > 0) throw new GradeFileError(faults);
  return confirmed;
}

/** The library as its files say it, without the user's confirmations: those that no longer fit are confirmed anew against this one. */
export async function loadUnconfirmedLibrary(folders: readonly string[] = []): Promise<Library> {
  const faults: GradeFileFault[] = [];
  const library = await readGradeFiles(folders, faults);
  if (faults.length > 0) throw new GradeFileError(faults);
  return library;
}

async function readGradeFiles(folders: readonly string[], faults: GradeFileFault[]): Promise<Library> {
  const grades = new Map<string, LibraryGrade & { readonly file: string }>();
  const tolerances = new Map<string, ToleranceTable>();
  for (const folder of [bundledFolder(), ...folders]) {
    for (const file of await jsonFilesBelow(folder, faults)) {
      const bytes = await readSmallFile(file, faults);
      const path = relative(folder, file)
        .split(sep)
        .join("/")
        .replace(/[.]json$/, "");
      if (bytes === undefined) continue;
      if (path.startsWith(TOLERANCES)) {
        const table = parseJson(file, bytes, toleranceTableSchema, faults);
        if (table && idIsPath(file, table.id, path.slice(TOLERANCES.length), faults)) tolerances.set(table.id, table);
      } else {
        const grade = parseJson<Grade>(file, bytes, gradeSchema, faults);
        if (grade && idIsPath(file, grade.id, path, faults))
          grades.set(grade.id, { file, grade, digest: sha256(bytes) });
      }
    }
  }

  // Sorted by id: a report must not depend on the order that a file system lists names in.
  const sorted = {
    grades: [...grades.values()].sort((left, right) => (left.grade.id < right.grade.id ? -1 : 1)),
    tolerances: [...tolerances.values()].sort((left, right) => (left.id < right.id ? -1 : 1)),
  };
  for (const { file, grade } of sorted.grades) {
    for (const dead of deadReferences(grade, sorted.tolerances)) faults.push({ file, ...dead });
  }
  return { ...sorted, grades: sorted.grades.map(({ grade, digest }) => ({ grade, digest })) };
}

/** core/grades/data of the package that this module belongs to, whether it runs from source or from dist. */
export function bundledFolder(from: string = dirname(fileURLToPath(import.meta.url))): string {
  for (let folder = from; ; folder = dirname(folder)) {
    const data = join(folder, "core", "grades", "data");
    if (existsSync(join(folder, "package.json")) && existsSync(data)) return data;
    if (folder === dirname(folder)) throw new Error(`no grade library above ${from}`);
  }
}

async function withConfirmations(
  library: Library,
  folders: readonly string[],
  faults: GradeFileFault[],
): Promise<Library> {
  let confirmed = library;
  for (const folder of folders) {
    const file = join(folder, CONFIRMATIONS_FILE);
    if (!existsSync(file)) continue;
    const bytes = await readSmallFile(file, faults);
    const confirmations = bytes && parseJson(file, bytes, confirmationsSchema, faults);
    if (!confirmations) continue;
    const applied = applyConfirmations(confirmed, confirmations);
    confirmed = applied.library;
    for (const { at, field, message } of applied.faults) {
      faults.push({ file, pointer: `/limits/${at}/${field}`, message });
    }
  }
  return confirmed;
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

function sha256(bytes: Uint8Array): string {
  return `sha256:${createHash("sha256").update(bytes).digest("hex")}`;
}
