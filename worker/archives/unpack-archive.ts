import { createHash } from "node:crypto";
import { createWriteStream } from "node:fs";
import { open } from "node:fs/promises";
import { basename, join } from "node:path";
import { Transform, type TransformCallback } from "node:stream";
import { pipeline } from "node:stream/promises";
import { crc32 } from "node:zlib";
import yauzl, { type Entry, type ZipFile } from "yauzl";

/** A document out of an archive, as a file of its own. */
export interface UnpackedEntry {
  /** Without its folders, unless two share it. Shown and never used as a path. */
  readonly name: string;
  readonly path: string;
  /** Lower-case hexadecimal. */
  readonly sha256: string;
  readonly bytes: number;
}

export interface ArchiveLimits {
  readonly entries: number;
  readonly entryBytes: number;
  /** Of all entries together, unpacked. */
  readonly totalBytes: number;
}

export type ArchiveRefusal =
  | "damaged"
  | "encrypted"
  | "nested"
  | "name"
  | "duplicate"
  | "link"
  | "too-many-entries"
  | "entry-too-large"
  | "too-large";

/** An archive that is not unpacked, and why. Nothing of it is to be taken for handed in. */
export class ArchiveRefused extends Error {
  override readonly name = "ArchiveRefused";
  constructor(
    readonly refusal: ArchiveRefusal,
    message: string,
    readonly entry?: string,
  ) {
    super(message);
  }
}

/** A ZIP archive of documents. A workbook is one file to whoever hands it in, though it is a ZIP archive within. */
export async function isArchive(path: string): Promise<boolean> {
  if (!(await beginsAsZip(path))) return false;
  const zip = await openZip(path).catch(() => undefined);
  // What cannot be opened is for the reader of workbooks to explain.
  if (!zip) return false;
  try {
    for await (const { fileName } of zip.eachEntry()) if (isPackagePart(fileName)) return false;
    return true;
  } catch {
    // It cannot be listed to its end, and no workbook can have such a list.
    return true;
  } finally {
    zip.close();
  }
}

/** ECMA-376 part 2: every Office file has this part. */
function isPackagePart(name: string): boolean {
  return name.replace(/^\//, "").toLowerCase() === "[content_types].xml";
}

async function beginsAsZip(path: string): Promise<boolean> {
  const file = await open(path, "r");
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(4), 0, 4, 0);
    const magic = buffer.subarray(0, bytesRead).toString("latin1");
    // The second is of an archive without entries.
    return magic === "PK\x03\x04" || magic === "PK\x05\x06";
  } finally {
    await file.close();
  }
}

async function openZip(path: string): Promise<ZipFile> {
  return await yauzl.openPromise(path, { autoClose: false });
}

/**
 * Unpacks an archive's documents into a folder, under names of our own, in the order of their names. What an archive says of itself is not
 * believed: bytes are counted as they come out, and unpacking ends with the first one too many. Throws `ArchiveRefused`.
 */
export async function unpackArchive(
  path: string,
  folder: string,
  limits: ArchiveLimits,
): Promise<readonly UnpackedEntry[]> {
  const zip = await openZip(path).catch((error: unknown) => {
    throw damaged(error);
  });
  try {
    const entries = await listDocuments(zip, limits.entries);
    const names = shownNames(entries);
    const unpacked: UnpackedEntry[] = [];
    let left = limits.totalBytes;
    for (const [position, entry] of entries.entries()) {
      const file = join(folder, `${basename(path)}.${position}`);
      const { sha256, bytes } = await unpackEntry(zip, entry, file, limits.entryBytes, left);
      left -= bytes;
      if (await isArchive(file)) {
        throw new ArchiveRefused("nested", `${entry.fileName} is an archive itself.`, entry.fileName);
      }
      unpacked.push({ name: names[position]!, path: file, sha256, bytes });
    }
    return unpacked;
  } finally {
    zip.close();
  }
}

/** What systems put into archives beside the files that somebody chose. */
const NOT_DOCUMENTS = /(^|\/)(__MACOSX\/|\.DS_Store$|\._|Thumbs\.db$|desktop\.ini$|~\$)/i;

async function listDocuments(zip: ZipFile, most: number): Promise<readonly Entry[]> {
  const entries = new Map<string, Entry>();
  try {
    for await (const entry of zip.eachEntry()) {
      const { fileName } = entry;
      if (fileName.endsWith("/") || NOT_DOCUMENTS.test(fileName)) continue;
      refuseOddEntry(entry);
      // Programs differ in which of two files with one name they show.
      if (entries.has(fileName)) {
        throw new ArchiveRefused("duplicate", `Two files of the archive are named ${fileName}.`, fileName);
      }
      entries.set(fileName, entry);
      if (entries.size > most) {
        throw new ArchiveRefused("too-many-entries", `The archive holds more than ${most} documents.`);
      }
    }
  } catch (error) {
    throw damaged(error);
  }
  return [...entries.values()].sort((one, other) => (one.fileName < other.fileName ? -1 : 1));
}

const UNIX_KIND = 0o170000;
const UNIX_LINK = 0o120000;

function refuseOddEntry(entry: Entry): void {
  const { fileName } = entry;
  if (entry.isEncrypted()) {
    throw new ArchiveRefused("encrypted", `${fileName} is protected with a password.`, fileName);
  }
  if (((entry.externalFileAttributes >>> 16) & UNIX_KIND) === UNIX_LINK) {
    throw new ArchiveRefused("link", `${fileName} is a link to another file.`, fileName);
  }
}

/** The last part of each name, and the whole name where several share it. */
function shownNames(entries: readonly Entry[]): readonly string[] {
  const last = entries.map(({ fileName }) => fileName.split("/").at(-1)!);
  return entries.map(({ fileName }, position) => {
    const isShared = last.filter((name) => name === last[position]).length > 1;
    return isShared ? fileName : last[position]!;
  });
}

async function unpackEntry(zip: ZipFile, entry: Entry, path: string, entryBytes: number, left: number) {
  const { fileName, crc32: stated } = entry;
  const hash = createHash("sha256");
  let bytes = 0;
  let checksum = 0;
  const meter = new Transform({
    transform(chunk: Buffer, _encoding, done: TransformCallback) {
      bytes += chunk.length;
      if (bytes > entryBytes) {
        const message = `${fileName} has more than the ${entryBytes} bytes that one document may have.`;
        return done(new ArchiveRefused("entry-too-large", message, fileName));
      }
      if (bytes > left) {
        return done(new ArchiveRefused("too-large", "The archive's documents together have more bytes than they may."));
      }
      hash.update(chunk);
      checksum = crc32(chunk, checksum);
      done(null, chunk);
    },
  });
  try {
    const from = await zip.openReadStreamPromise(entry);
    await pipeline(from, meter, createWriteStream(path, { flags: "wx", mode: 0o600 }));
  } catch (error) {
    throw damaged(error, fileName);
  }
  if (checksum !== stated) {
    throw new ArchiveRefused("damaged", `${fileName} is damaged: its checksum is another.`, fileName);
  }
  return { sha256: hash.digest("hex"), bytes };
}

/** The library speaks in errors without a code; those with one are of the disk, and not the archive's. */
function damaged(error: unknown, entry?: string): unknown {
  const { code, message } = error as NodeJS.ErrnoException;
  if (error instanceof ArchiveRefused || (code !== undefined && !code.startsWith("Z_"))) return error;
  const isName = /^(invalid relative path|absolute path|invalid characters in fileName)/.test(message);
  const refusal = isName ? "name" : "damaged";
  return new ArchiveRefused(refusal, `The archive cannot be unpacked: ${message.slice(0, 200)}.`, entry);
}
