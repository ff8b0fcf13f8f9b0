import type { Certificate, Statement } from "../certificate/certificate.js";
import type { JsonTree, ReadDocument } from "./cells.js";
import { type Context, doubt } from "./context.js";
import { findDocumentType } from "./document-type.js";
import { type JsonCertificate, jsonCertificateSchema } from "./json-certificate.js";
import { type JsonContext, statementAt } from "./json-context.js";
import { type Path, pruneToSchema, toPlainJson } from "./prune-json.js";
import { readJsonHeat } from "./read-json-heat.js";
import { wrapLists } from "./wrap-lists.js";

/** Reads a certificate in our JSON or XML form. What does not fit the form is said with its pointer; the rest is read. */
export function readJsonCertificate(context: Context, tree: JsonTree, reader: ReadDocument["reader"]): Certificate {
  const json = reader === "xml" ? wrapLists(toPlainJson(tree)) : toPlainJson(tree);
  const pruned = pruneToSchema(json, jsonCertificateSchema);
  for (const { pointer, path, message } of pruned.faults) {
    doubt(
      context,
      "json-fault",
      `${pointer || "The document"}: ${message}; this part was not read.`,
      { pointer },
      about(json, path),
    );
  }
  if (!pruned.fits) {
    const message =
      "This is not a certificate in the documented form; it needs certificate: 1 and heats with their results.";
    doubt(context, "json-unknown", message, { pointer: "" });
    return { heats: [], doubts: context.doubts };
  }
  const certificate = json as unknown as JsonCertificate;
  const place: JsonContext = { context, pointerTo: pruned.pointerTo };
  const type = readType(place, certificate.type);
  return {
    ...(type && { type }),
    ...texts(place, certificate),
    heats: certificate.heats.map((heat, index) => readJsonHeat(place, heat, ["heats", index])),
    doubts: context.doubts,
  };
}

function readType(json: JsonContext, printed: string | undefined): Statement | undefined {
  if (printed === undefined) return undefined;
  const found = findDocumentType(`type ${printed}`);
  if (found) return statementAt(json, ["type"], printed, found.type);
  doubt(json.context, "document-type-unknown", `${JSON.stringify(printed)} is no document type by EN 10204.`, {
    pointer: "/type",
  });
  return undefined;
}

const TEXTS = ["number", "issuer", "date", "testDate", "order"] as const;

function texts(json: JsonContext, certificate: JsonCertificate): Pick<Certificate, (typeof TEXTS)[number]> {
  return Object.fromEntries(
    TEXTS.flatMap((name) => {
      const value = certificate[name];
      return value === undefined ? [] : [[name, statementAt(json, [name], value)]];
    }),
  );
}

/** A fault inside a heat's results leaves that heat's quantity undecided, not merely unreported. */
function about(json: unknown, path: Path): { heat?: string; quantity?: string } {
  const heat = path[0] === "heats" ? (json as JsonCertificate).heats?.[Number(path[1])]?.heat : undefined;
  const values = path.indexOf("values");
  const key = values >= 0 ? path[values + 1] : path.find((part) => SET_QUANTITIES.has(String(part)));
  const quantity = key === undefined ? undefined : (SET_QUANTITIES.get(String(key)) ?? String(key));
  return { ...(heat !== undefined && { heat: String(heat) }), ...(quantity !== undefined && { quantity }) };
}

const SET_QUANTITIES: ReadonlyMap<string, string> = new Map([
  ["KV", "KV"],
  ["KU", "KU"],
  ["KCV", "KCV"],
  ["lateralExpansion", "LE"],
  ["shearFracture", "SFA"],
]);
