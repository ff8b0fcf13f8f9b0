import { open } from "node:fs/promises";
import {
  type ArchiveRefusal,
  ArchiveRefused,
  isArchive,
  type UnpackedEntry,
  unpackArchive,
} from "../../worker/archives/unpack-archive.js";
import type { UploadLimits } from "../config.js";
import { Problem, type ProblemCode } from "../problems.js";
import { checkKind } from "./check-kind.js";
import { tidyName } from "./document-name.js";
import { HEAD_BYTES } from "./keep-document.js";
import type { ReceivedDocument } from "./received.js";

/**
 * Puts the documents of each ZIP archive in its place. Their bytes count like those of documents that came by themselves; the archive's own
 * count no more, for it is not kept.
 */
export async function unpackArchives(
  documents: readonly ReceivedDocument[],
  folder: string,
  limits: UploadLimits,
): Promise<readonly ReceivedDocument[]> {
  const given: ReceivedDocument[] = [];
  let bytesLeft = limits.submissionBytes;
  for (const document of documents) {
    const unpacked = (await isArchive(document.path))
      ? await unpack(document, folder, { ...limits, submissionBytes: bytesLeft }, limits.documents - given.length)
      : [document];
    given.push(...unpacked);
    for (const { bytes } of unpacked) bytesLeft -= bytes;
  }
  if (documents.length > 0 && given.length === 0) {
    throw new Problem("document-missing", { detail: "The archive holds no document." });
  }
  if (given.length > limits.documents) throw tooManyDocuments(limits.documents);
  return given;
}

async function unpack({ path }: ReceivedDocument, folder: string, limits: UploadLimits, entries: number) {
  const budget = { entries, entryBytes: limits.documentBytes, totalBytes: limits.submissionBytes };
  const unpacked = await unpackArchive(path, folder, budget).catch((error: unknown) => {
    throw error instanceof ArchiveRefused ? asProblem(error) : error;
  });
  return await Promise.all(unpacked.map(asReceived));
}

async function asReceived({ name, path, sha256, bytes }: UnpackedEntry): Promise<ReceivedDocument> {
  // Folders stay where two files would else have one name.
  const shown = name.split("/").map(tidyName).join("/");
  const mediaType = "application/octet-stream";
  checkKind(shown, mediaType, { path, sha256, bytes, head: await readHead(path) });
  return { name: shown, mediaType, sha256, bytes, path };
}

async function readHead(path: string): Promise<Buffer> {
  const file = await open(path, "r");
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
    return buffer.subarray(0, bytesRead);
  } finally {
    await file.close();
  }
}

const TOO_LARGE: Partial<Record<ArchiveRefusal, ProblemCode>> = {
  "too-many-entries": "too-many-documents",
  "entry-too-large": "document-too-large",
  "too-large": "request-too-large",
};

function asProblem({ refusal, message, entry }: ArchiveRefused): Problem {
  const errors = entry === undefined ? {} : { errors: [{ pointer: tidyName(entry), detail: refusal }] };
  return new Problem(TOO_LARGE[refusal] ?? "archive-refused", { detail: message, ...errors });
}

export function tooManyDocuments(most: number): Problem {
  return new Problem("too-many-documents", { detail: `One submission may have ${most} documents.` });
}
