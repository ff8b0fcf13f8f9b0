import yauzl, { type Entry, type ZipFile } from "yauzl";
import type { Meter } from "../meter.js";
import { ReadFailure } from "../problem.js";

/** A workbook's parts by name, inflated only when asked for and only as far as the budgets go. */
export interface Archive {
  readonly names: readonly string[];
  /** Undefined where there is no such part. */
  readPart(name: string, take: (chunk: Buffer) => void): Promise<boolean>;
}

export async function openArchive(bytes: Buffer, meter: Meter): Promise<Archive> {
  const { parts: partLimit, partBytes } = meter.budgets;
  const zip = await openZip(bytes);
  if (zip.entryCount > partLimit) {
    throw new ReadFailure("too-many-parts", `It is made of ${zip.entryCount} parts; ${partLimit} are allowed.`);
  }
  const entries = await listEntries(zip);

  return {
    names: [...entries.keys()],
    async readPart(name, take) {
      const entry = entries.get(partKey(name));
      if (!entry) return false;
      let inflated = 0;
      try {
        for await (const chunk of await zip.openReadStreamPromise(entry)) {
          inflated += (chunk as Buffer).length;
          meter.inflated((chunk as Buffer).length);
          if (inflated > partBytes) {
            throw new ReadFailure("too-large-inflated", `Its part ${name} has more than ${partBytes} bytes unpacked.`);
          }
          take(chunk as Buffer);
        }
      } catch (error) {
        throw explain(error);
      }
      return true;
    },
  };
}

async function openZip(bytes: Buffer): Promise<ZipFile> {
  try {
    return await yauzl.fromBufferPromise(bytes, { lazyEntries: true });
  } catch {
    // The list of parts stands at the end of the file, so this is how a cut-off one shows.
    throw new ReadFailure("truncated", "The file starts like a workbook but its end is missing.");
  }
}

async function listEntries(zip: ZipFile): Promise<Map<string, Entry>> {
  const entries = new Map<string, Entry>();
  try {
    for await (const entry of zip.eachEntry()) {
      const key = partKey(entry.fileName);
      // Programs differ in which of two parts with one name they show.
      if (entries.has(key)) throw new ReadFailure("damaged", `It holds two parts named ${entry.fileName}.`);
      if (entry.isEncrypted()) throw new ReadFailure("encrypted", "Its parts are protected with a password.");
      entries.set(key, entry);
    }
  } catch (error) {
    throw explain(error);
  }
  return entries;
}

/** Part names are compared without regard to case (ECMA-376 part 2), and stand with or without a leading slash. */
function partKey(name: string): string {
  return name.replace(/^\//, "").toLowerCase();
}

function explain(error: unknown): ReadFailure {
  if (error instanceof ReadFailure) return error;
  return new ReadFailure("damaged", `The workbook's archive is damaged: ${(error as Error).message.slice(0, 120)}.`);
}
