import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Request } from "express";
import { Problem } from "../problems.js";
import { checkKind } from "./check-kind.js";
import { documentName } from "./document-name.js";
import { feed } from "./feed.js";
import { type Allowance, allowanceFor, keepDocument } from "./keep-document.js";
import type { ReceivedDocument } from "./received.js";

/** The whole body is one document: the plainest way to hand one in, and no parser stands in its path. */
export async function receiveRaw(request: Request, folder: string, allowance: Allowance): Promise<ReceivedDocument> {
  const name = nameOf(request);
  const mediaType = documentTypeOf(request.headers["content-type"]);
  const { into, kept } = keepDocument(join(folder, "0"), name, allowanceFor(mediaType, allowance));
  const [file] = await Promise.all([kept, feed(request, into)]);
  if (file.bytes === 0 && request.headers["content-type"] === undefined) throw new Problem("document-missing");
  checkKind(name, mediaType, file);
  if (mediaType === "application/json") await checkJson(name, file.path, file.bytes);
  return { name, mediaType, sha256: file.sha256, bytes: file.bytes, path: file.path };
}

function nameOf(request: Request): string {
  try {
    return documentName(request.headers["content-disposition"], request.query.name);
  } catch {
    const errors = [{ pointer: "Content-Disposition", detail: "cannot be parsed" }];
    throw new Problem("parameter-invalid", { errors });
  }
}

/** `curl --data-binary` calls a body that it knows nothing of a web form; nobody keeps certificates as one. */
function documentTypeOf(contentType: string | undefined): string {
  const declared = mediaTypeOf(contentType);
  return declared === "application/x-www-form-urlencoded" ? "application/octet-stream" : declared;
}

export function mediaTypeOf(contentType: string | undefined): string {
  const [type = ""] = (contentType ?? "").split(";", 1);
  return type.trim().toLowerCase() || "application/octet-stream";
}

/** No certificate comes near it. Parsing 25 MB that somebody thought out takes half a minute, a gigabyte, and everybody's time. */
const JSON_LOOKED_AT_BYTES = 256 * 1024;

/** Broken JSON says where it broke; a reader's doubt an hour later would help nobody. Of more bytes the reader tells, which has budgets. */
export async function checkJson(name: string, path: string, bytes: number): Promise<void> {
  if (bytes > JSON_LOOKED_AT_BYTES) return;
  try {
    JSON.parse((await readFile(path, "utf8")).replace(/^\uFEFF/, ""));
  } catch (error) {
    throw new Problem("json-broken", { detail: `${name}: ${(error as Error).message}` });
  }
}
