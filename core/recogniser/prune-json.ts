import type { z } from "zod";
import type { JsonTree } from "./cells.js";

/** Plain JSON in which a number is the text that stood in the file: 0.030 keeps its zeros. */
export type PlainJson = null | boolean | string | PlainJson[] | { [key: string]: PlainJson };

export interface Fault {
  readonly pointer: string;
  readonly path: readonly (string | number)[];
  readonly message: string;
}

export function toPlainJson(tree: JsonTree): PlainJson {
  switch (tree.kind) {
    case "object": {
      // A null prototype: a key "__proto__" in the file is a key like any other.
      const object: { [key: string]: PlainJson } = Object.create(null);
      for (const [key, child] of tree.entries) object[key] = toPlainJson(child);
      return object;
    }
    case "array":
      return tree.items.map(toPlainJson);
    case "string":
    case "number":
      return tree.text;
    case "boolean":
      return tree.value;
    case "null":
      return null;
  }
}

/** Rounds of taking faults away: each may lay bare another, one level up. */
const MAX_ROUNDS = 12;
const MAX_FAULTS = 200;

export interface Pruned {
  /** Whether what is left of `json` fits the schema. */
  readonly fits: boolean;
  readonly faults: readonly Fault[];
  /** RFC 6901 pointer into the file as received, items taken away counted in. */
  pointerTo(path: Path): string;
}

export type Path = readonly (string | number)[];

/**
 * Fits JSON to a schema by taking away what does not fit and saying so: one wrong value costs only itself.
 * `json` is changed; a fault of the document as a whole leaves it not fitting.
 */
export function pruneToSchema(json: PlainJson, schema: z.ZodType): Pruned {
  const faults: Fault[] = [];
  const origins = new Map<PlainJson[], number[]>();
  const pointerTo = (path: Path) => pointerOf(originalPath(json, path, origins));

  for (let round = 0; round < MAX_ROUNDS; round++) {
    const result = schema.safeParse(json);
    if (result.success) return { fits: true, faults, pointerTo };
    const doomed = new Map<string, Path>();
    for (const issue of result.error.issues.slice(0, MAX_FAULTS)) {
      const path = issue.path.filter((part) => typeof part !== "symbol");
      const paths = issue.code === "unrecognized_keys" ? issue.keys.map((key) => [...path, key]) : [path];
      for (const faulty of paths) {
        const original = originalPath(json, faulty, origins);
        faults.push({ pointer: pointerOf(original), path: original, message: issue.message });
        const present = nearestPresent(json, faulty);
        doomed.set(pointerOf(present), present);
      }
    }
    if (doomed.has("")) return { fits: false, faults, pointerTo };
    takeAwayAll(json, [...doomed.values()], origins);
  }
  return { fits: false, faults, pointerTo };
}

export function pointerOf(path: Path): string {
  return path.map((part) => `/${String(part).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}

function originalPath(json: PlainJson, path: Path, origins: ReadonlyMap<PlainJson[], readonly number[]>): Path {
  let parent: PlainJson | undefined = json;
  return path.map((part) => {
    const original = Array.isArray(parent) && typeof part === "number" ? (origins.get(parent)?.[part] ?? part) : part;
    parent = childOf(parent, part);
    return original;
  });
}

/** The path itself, or the nearest thing above it that is there: a missing name costs its owner. */
function nearestPresent(json: PlainJson, path: Path): Path {
  let parent: PlainJson | undefined = json;
  for (let at = 0; at < path.length; at++) {
    parent = childOf(parent, path[at]!);
    if (parent === undefined) return path.slice(0, at);
  }
  return path;
}

/** Later items go first, so that one removal does not move the next. What lies inside something doomed goes with it. */
function takeAwayAll(json: PlainJson, paths: readonly Path[], origins: Map<PlainJson[], number[]>): void {
  const isInside = (path: Path) =>
    paths.some((other) => other.length < path.length && other.every((part, at) => part === path[at]));
  const order = paths
    .filter((path) => !isInside(path))
    .sort(comparePaths)
    .reverse();
  for (const path of order) {
    let parent: PlainJson | undefined = json;
    for (const part of path.slice(0, -1)) parent = childOf(parent, part);
    const last = path.at(-1)!;
    if (Array.isArray(parent)) {
      const indexes = origins.get(parent) ?? parent.map((_, index) => index);
      parent.splice(last as number, 1);
      indexes.splice(last as number, 1);
      origins.set(parent, indexes);
    } else {
      delete (parent as { [key: string]: PlainJson })[last];
    }
  }
}

function comparePaths(left: Path, right: Path): number {
  for (let at = 0; at < Math.min(left.length, right.length); at++) {
    const [a, b] = [left[at]!, right[at]!];
    if (a === b) continue;
    return typeof a === "number" && typeof b === "number" ? a - b : String(a) < String(b) ? -1 : 1;
  }
  return left.length - right.length;
}

function childOf(value: PlainJson | undefined, part: string | number): PlainJson | undefined {
  if (value === null || typeof value !== "object") return undefined;
  return (value as { [key: string]: PlainJson })[part];
}
