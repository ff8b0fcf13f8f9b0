import type { Statement } from "../certificate/certificate.js";
import { type Context, evidenceOf } from "./context.js";
import type { Path } from "./prune-json.js";

export interface JsonContext {
  readonly context: Context;
  /** RFC 6901 pointer into the file as received. */
  pointerTo(path: Path): string;
}

export function statementAt(
  json: JsonContext,
  path: Path,
  printed: string | number,
  value = String(printed),
): Statement {
  return { value, printed: String(printed), confidence: 1, evidence: evidenceAt(json, path) };
}

export function evidenceAt(json: JsonContext, path: Path) {
  return evidenceOf(json.context, { pointer: json.pointerTo(path) });
}
