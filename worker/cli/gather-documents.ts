import { createHash } from "node:crypto";
import { createReadStream, createWriteStream } from "node:fs";
import { realpath, stat } from "node:fs/promises";
import { basename, join, relative, resolve, sep } from "node:path";
import { pipeline } from "node:stream/promises";
import { glob } from "tinyglobby";
import type { GivenDocument } from "../jobs/verify-documents.js";
import { type Terminal, UsageError } from "./terminal.js";

/** Names of files that systems leave in folders and nobody hands in. */
const NOT_DOCUMENTS = ["**/Thumbs.db", "**/desktop.ini", "**/~$*"];

/**
 * The documents that the arguments name, in the order given; files of a folder or pattern in the order of their names, so
 * that the same files give the same report on every system. A file that is named twice is handed in once.
 */
export async function gatherDocuments(
  names: readonly string[],
  terminal: Terminal,
  scratchFolder: string,
): Promise<readonly GivenDocument[]> {
  const paths: string[] = [];
  for (const name of names) paths.push(...(name === "-" ? ["-"] : await filesNamed(name, terminal.folder)));

  const real = new Map<string, string>();
  for (const path of paths) {
    const key = path === "-" ? path : await realpath(path);
    if (!real.has(key)) real.set(key, path);
  }
  const unique = [...real.values()];
  const basenames = unique.map((path) => basename(path));
  return Promise.all(
    unique.map(async (path, index) => {
      if (path === "-") return standardInput(terminal, join(scratchFolder, "standard-input"));
      const name = basenames[index]!;
      const clashes = basenames.indexOf(name) !== basenames.lastIndexOf(name);
      return given(path, clashes ? relative(terminal.folder, path).split(sep).join("/") : name);
    }),
  );
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

async function given(path: string, name: string): Promise<GivenDocument> {
  const hash = createHash("sha256");
  for await (const chunk of createReadStream(path)) hash.update(chunk as Uint8Array);
  return { name, mediaType: "application/octet-stream", sha256: hash.digest("hex"), path };
}

/** Readers open files, because they may be other processes; so standard input becomes one for the time of the command. */
async function standardInput({ stdin }: Terminal, path: string): Promise<GivenDocument> {
  await pipeline(stdin, createWriteStream(path, { mode: 0o600 }));
  return given(path, "standard input");
}
