import { mkdtemp, rm } from "node:fs/promises";
import { join } from "node:path";
import type { Request } from "express";
import type { UploadLimits } from "../config.js";
import { Problem } from "../problems.js";
import { readCallback } from "../requests/callback.js";
import { checkJson } from "../requests/parse-json.js";
import { readTags, tagsSchema } from "../requests/tags.js";
import { requestTooLarge } from "./keep-document.js";
import { receiveMultipart } from "./receive-multipart.js";
import { mediaTypeOf, receiveRaw } from "./receive-raw.js";
import type { Received } from "./received.js";

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
  if (mediaTypeOf(request.headers["content-type"]) !== "multipart/form-data") {
    const document = await receiveRaw(request, folder, allowance);
    const { requirement } = request.query;
    return {
      documents: [document],
      requirementText: typeof requirement === "string" ? requirement : undefined,
      tags: {},
    };
  }
  const { documents, texts, tags } = await receiveMultipart(request, folder, allowance, limits);
  if (documents.length === 0) throw new Problem("document-missing");
  const callback = readCallback(texts.callback);
  return {
    documents,
    requirementText: texts.requirement,
    tags: { ...readTags(texts.tags), ...checkJson(tags, tagsSchema, "The tags", "tags-invalid") },
    ...(callback ? { callback } : {}),
  };
}

/** A sender that states its size is refused before it has sent anything. */
function refuseDeclaredSize(request: Request, limits: UploadLimits): void {
  const declared = Number(request.headers["content-length"] ?? 0);
  if (declared > limits.submissionBytes + ENVELOPE_BYTES) throw requestTooLarge(limits.submissionBytes);
}
