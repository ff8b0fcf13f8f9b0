import { mkdtemp, rm } from "node:fs/promises";
import { join } from "node:path";
import type { Request } from "express";
import type { UploadLimits } from "../config.js";
import { Problem } from "../problems.js";
import { readCallback } from "../requests/callback.js";
import { readTagPairs } from "../requests/list-query.js";
import { checkJson } from "../requests/parse-json.js";
import { readQuery } from "../requests/query.js";
import { type SubmitQuery, submitQuerySchema } from "../requests/submit-query.js";
import { readTags, tagsSchema } from "../requests/tags.js";
import { requestTooLarge } from "./keep-document.js";
import { receiveMultipart } from "./receive-multipart.js";
import { mediaTypeOf, receiveRaw } from "./receive-raw.js";
import type { Received } from "./received.js";
import { unpackArchives } from "./unpack-archives.js";

/** Room for boundaries, part headers and the JSON parts, on top of the documents. */
const ENVELOPE_BYTES = 1_000_000;

/**
 * Takes a request apart into a folder of its own, hands the result to `use`, and takes the folder away whatever happened:
 * a request that was refused or broke off leaves nothing behind.
 */
export async function receiveSubmission<T>(
  request: Request,
  uploadFolder: string,
  limits: UploadLimits,
  use: (received: Received) => Promise<T>,
): Promise<T> {
  refuseDeclaredSize(request, limits);
  const folder = await mkdtemp(join(uploadFolder, "upload-"));
  try {
    return await use(await receive(request, folder, limits));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function receive(request: Request, folder: string, limits: UploadLimits): Promise<Received> {
  const allowance = {
    submissionBytes: limits.submissionBytes,
    documentBytes: limits.documentBytes,
    bytesLeft: limits.submissionBytes,
  };
  const query = readQuery(request, submitQuerySchema);
  if (mediaTypeOf(request.headers["content-type"]) !== "multipart/form-data") {
    const tags = checkJson(readTagPairs(query.tag) ?? {}, tagsSchema, "The tags", "tags-invalid");
    const document = await receiveRaw(request, folder, allowance);
    const documents = await unpackArchives([document], folder, limits);
    return { documents, requirementText: query.requirement, tags };
  }
  refuseForParts(query);
  const { documents: parts, texts, tags } = await receiveMultipart(request, folder, allowance, limits);
  if (parts.length === 0) throw new Problem("document-missing");
  const documents = await unpackArchives(parts, folder, limits);
  const callback = readCallback(texts.callback);
  // An empty part is what a form sends for nothing chosen.
  const requirementText = texts.requirement?.trim() || query.requirement;
  if (texts.requirement?.trim() && query.requirement) throw saidTwice("requirement");
  return {
    documents,
    requirementText,
    tags: { ...readTags(texts.tags), ...checkJson(tags, tagsSchema, "The tags", "tags-invalid") },
    ...(callback ? { callback } : {}),
  };
}

/** What belongs to a document that is the body would be passed over beside parts that say it for themselves. */
function refuseForParts(query: SubmitQuery): void {
  for (const name of ["name", "tag"] as const) if (query[name] !== undefined) throw saidTwice(name);
}

function saidTwice(pointer: string): Problem {
  const detail = "is said by a part of a multipart request, not by its address as well";
  return new Problem("parameter-invalid", { errors: [{ pointer, detail }] });
}

/** A sender that states its size is refused before it has sent anything. */
function refuseDeclaredSize(request: Request, limits: UploadLimits): void {
  const declared = Number(request.headers["content-length"] ?? 0);
  if (declared > limits.submissionBytes + ENVELOPE_BYTES) throw requestTooLarge(limits.submissionBytes);
}
