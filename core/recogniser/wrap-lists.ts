import type { PlainJson } from "./prune-json.js";

const LISTS: ReadonlySet<string> = new Set([
  "heats",
  "grades",
  "chemistry",
  "tensile",
  "impact",
  "hardness",
  "singles",
]);

/** XML can't tell a list of one from a thing: what the certificate's form calls a list becomes one, `retest` a truth value. */
export function wrapLists(json: PlainJson): PlainJson {
  if (Array.isArray(json)) return json.map(wrapLists);
  if (json === null || typeof json !== "object") return json;
  const wrapped: { [key: string]: PlainJson } = Object.create(null);
  for (const [key, value] of Object.entries(json)) {
    const inner = wrapLists(value);
    wrapped[key] = LISTS.has(key) && !Array.isArray(inner) ? [inner] : key === "retest" ? inner === "true" : inner;
  }
  return wrapped;
}
