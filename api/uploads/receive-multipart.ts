import { join } from "node:path";
import type { Readable } from "node:stream";
import busboy from "busboy";
import type { Request } from "express";
import type { UploadLimits } from "../config.js";
import { Problem } from "../problems.js";
import { checkKind } from "./check-kind.js";
import { tidyName } from "./document-name.js";
import { feed } from "./feed.js";
import { type Allowance, allowanceFor, keepDocument } from "./keep-document.js";
import { checkJson } from "./receive-raw.js";
import type { ReceivedDocument } from "./received.js";
import { tooManyDocuments } from "./unpack-archives.js";

export const JSON_PARTS = ["requirement", "callback", "tags"] as const;
export type JsonPart = (typeof JSON_PARTS)[number];

export interface Parts {
  readonly documents: readonly ReceivedDocument[];
  readonly texts: Readonly<Partial<Record<JsonPart, string>>>;
  /** From parts named tag.<name>, as a plain form sends them. */
  readonly tags: Readonly<Record<string, string>>;
}

const JSON_PART_BYTES = 256 * 1024;

/** Any number of `document` parts and at most one each of the JSON parts, in any order. */
export async function receiveMultipart(
  request: Request,
  folder: string,
  allowance: Allowance,
  limits: UploadLimits,
): Promise<Parts> {
  const parser = openParser(request);
  const documents: Promise<ReceivedDocument>[] = [];
  const texts: Partial<Record<JsonPart, string>> = {};
  const tags: [string, string][] = [];
  const pending: Promise<void>[] = [];
  const refuse = (error: unknown) => void parser.destroy(error as Error);

  const takeText = (name: string, text: string) => {
    const tag = /^tag[.](.+)$/.exec(name)?.[1];
    if (tag !== undefined) {
      if (text !== "") tags.push([tag, text]);
      return;
    }
    if (!isJsonPart(name)) return refuse(partUnknown(name));
    if (texts[name] !== undefined)
      return refuse(new Problem("multipart-broken", { detail: `The part ${name} was sent twice.` }));
    texts[name] = text;
  };

  parser.on("file", (name, stream, info) => {
    // The parser tells the stream of its own end; without a listener that would end the process.
    stream.on("error", () => undefined);
    if (name !== "document") {
      pending.push(
        collectText(stream, name)
          .then((text) => takeText(name, text))
          .catch(refuse),
      );
      return;
    }
    if (documents.length >= limits.documents) {
      return refuse(tooManyDocuments(limits.documents));
    }
    const path = join(folder, String(documents.length));
    const document = keepPart(stream, path, tidyName(info.filename), info.mimeType, allowance);
    document.catch(refuse);
    documents.push(document);
  });
  parser.on("field", (name, text, info) => {
    if (info.valueTruncated) return refuse(partTooLarge(name));
    takeText(name, text);
  });
  parser.on("fieldsLimit", () =>
    refuse(new Problem("request-too-large", { detail: "There are more than 50 fields." })),
  );
  parser.on("partsLimit", () => refuse(new Problem("too-many-documents")));

  await feed(request, parser).catch((error: unknown) => {
    throw asMultipartProblem(error);
  });
  await Promise.all(pending);
  return { documents: await Promise.all(documents), texts, tags: Object.fromEntries(tags) };
}

function openParser(request: Request): busboy.Busboy {
  try {
    return busboy({
      headers: request.headers,
      defParamCharset: "utf8",
      limits: { fieldSize: JSON_PART_BYTES, fields: 50, parts: 1_000, headerPairs: 50 },
    });
  } catch (error) {
    throw asMultipartProblem(error);
  }
}

async function keepPart(
  stream: Readable,
  path: string,
  name: string,
  mediaType: string,
  allowance: Allowance,
): Promise<ReceivedDocument> {
  const { into, kept } = keepDocument(path, name, allowanceFor(mediaType, allowance));
  stream.once("error", (error) => into.destroy(error));
  stream.pipe(into);
  const file = await kept;
  checkKind(name, mediaType, file);
  if (mediaType === "application/json") await checkJson(name, path, file.bytes);
  return { name, mediaType, sha256: file.sha256, bytes: file.bytes, path };
}

async function collectText(stream: Readable, name: string): Promise<string> {
  if (!isJsonPart(name)) throw partUnknown(name);
  const chunks: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of stream as AsyncIterable<Buffer>) {
    bytes += chunk.length;
    if (bytes > JSON_PART_BYTES) throw partTooLarge(name);
    chunks.push(chunk);
  }
  return Buffer.concat(chunks).toString("utf8");
}

function isJsonPart(name: string): name is JsonPart {
  return (JSON_PARTS as readonly string[]).includes(name);
}

function partUnknown(name: string): Problem {
  const errors = [{ pointer: tidyName(name), detail: "is not a part of a submission" }];
  return new Problem("part-unknown", { errors });
}

function partTooLarge(name: string): Problem {
  return new Problem("request-too-large", {
    detail: `The part ${tidyName(name)} is larger than ${JSON_PART_BYTES} bytes.`,
  });
}

function asMultipartProblem(error: unknown): unknown {
  if (error instanceof Problem || (error as NodeJS.ErrnoException).code !== undefined) return error;
  return new Problem("multipart-broken", { detail: `${(error as Error).message}.` });
}
