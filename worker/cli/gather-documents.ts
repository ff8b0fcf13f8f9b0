import { createHash } from "node:crypto";
import { createReadStream, createWriteStream } from "node:fs";
import { mkdtemp, realpath, stat } from "node:fs/promises";
import { basename, join, relative, resolve, sep } from "node:path";
import { pipeline } from "node:stream/promises";
import { glob } from "tinyglobby";
import { ArchiveRefused, isArchive, unpackArchive } from "../archives/unpack-archive.js";
import type { GivenDocument } from "../jobs/verify-documents.js";
import { type Terminal, UsageError } from "./terminal.js";

/** Names of files that systems leave in folders and nobody hands in. */
const NOT_DOCUMENTS = ["**/Thumbs.db", "**/desktop.ini", "**/~$*"];

/** A document that an argument names; nothing of it has been read yet. */
export type NamedDocument = Pick<GivenDocument, "name" | "path">;

/** The documents of `findDocuments`, each with its digest. */
export async function gatherDocuments(
  names: readonly string[],
  terminal: Terminal,
  scratchFolder: string,
): Promise<readonly GivenDocument[]> {
  const documents: GivenDocument[] = [];
  for (const document of await findDocuments(names, terminal, scratchFolder)) documents.push(await given(document));
  return documents;
}

/**
 * The documents that the arguments name, in the order given; files of a folder or pattern in the order of their names, so
 * that the same files give the same report on every system. A file that is named twice is handed in once; of a ZIP archive, each
 * document in it.
 */
export async function findDocuments(
  names: readonly string[],
  terminal: Terminal,
  scratchFolder: string,
): Promise<readonly NamedDocument[]> {
  const paths: string[] = [];
  for (const name of names) paths.push(...(name === "-" ? ["-"] : await filesNamed(name, terminal.folder)));

  const real = new Map<string, string>();
  for (const path of paths) {
    const key = path === "-" ? path : await realpath(path);
    if (!real.has(key)) real.set(key, path);
  }
  const unique = [...real.values()];
  const sharing = new Map<string, number>();
  for (const path of unique) sharing.set(basename(path), (sharing.get(basename(path)) ?? 0) + 1);
  const named = await Promise.all(
    unique.map(async (path) => {
      if (path === "-") return [await standardInput(terminal, join(scratchFolder, "standard-input"))];
      const name = basename(path);
      const clashes = sharing.get(name)! > 1;
      const shown = clashes ? relative(terminal.folder, path).split(sep).join("/") : name;
      return (await isArchive(path)) ? await documentsIn(path, shown, scratchFolder) : [{ path, name: shown }];
    }),
  );
  return named.flat();
}

/** More than anybody hands in at once, and less than fills a disk. */
const ARCHIVE_LIMITS = { entries: 1_000, entryBytes: 100_000_000, totalBytes: 1_000_000_000 };

/** The documents of a ZIP archive, named as the service names them. */
async function documentsIn(archive: string, shown: string, scratchFolder: string): Promise<readonly NamedDocument[]> {
  try {
    const folder = await mkdtemp(join(scratchFolder, "archive-"));
    const entries = await unpackArchive(archive, folder, ARCHIVE_LIMITS);
    return entries.map(({ name, path }) => ({ name, path }));
  } catch (error) {
    if (error instanceof ArchiveRefused) throw new UsageError(`${shown}: ${error.message}`);
    throw error;
  }
}

async function filesNamed(name: string, folder: string): Promise<readonly string[]> {
  const path = resolve(folder, name);
  const found = await stat(path).catch(() => undefined);
  if (found?.isFile()) return [path];
  const files = found?.isDirectory()
    ? await glob("**", { cwd: path, absolute: true, ignore: NOT_DOCUMENTS })
    : await glob(name, { cwd: folder, absolute: true, ignore: NOT_DOCUMENTS, expandDirectories: false });
  if (files.length > 0) return files.map((file) => resolve(file)).sort(byCodePoint);
  if (found?.isDirectory()) throw new UsageError(`there is no file in the folder ${name}.`);
  throw new UsageError(`there is no file, folder or match for ${name}.`);
}

function byCodePoint(left: string, right: string): number {
  return left < right ? -1 : left > right ? 1 : 0;
}

/** A document with the digest that it is known by. */
export async function given({ path, name }: NamedDocument): Promise<GivenDocument> {
  const hash = createHash("sha256");
  for await (const chunk of createReadStream(path)) hash.update(chunk as Uint8Array);
  return { name, mediaType: "application/octet-stream", sha256: hash.digest("hex"), path };
}

/** Readers open files, because they may be other processes; so standard input becomes one for the time of the command. */
async function standardInput({ stdin }: Terminal, path: string): Promise<NamedDocument> {
  await pipeline(stdin, createWriteStream(path, { mode: 0o600 }));
  return { name: "standard input", path };
}
