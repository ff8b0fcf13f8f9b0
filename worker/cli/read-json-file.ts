import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { text } from "node:stream/consumers";
import type { z } from "zod";
import { REPEATED, repeatedName } from "../store/repeated-name.js";
import { type Terminal, UsageError } from "./terminal.js";

/** A fault of a JSON file and the JSON Pointer (RFC 6901) to it. */
interface JsonFault {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

/**
 * Reads and checks a JSON file that the caller named, "-" for standard input. Every fault is listed with its JSON pointer, so
 * that all can be mended in one go.
 * @param what how the file is called in a refusal: "the requirement"
 */
export async function readJsonFile<Schema extends z.ZodType>(
  what: string,
  name: string,
  schema: Schema,
  { stdin, folder }: Terminal,
): Promise<z.output<Schema>> {
  const source = name === "-" ? await text(stdin) : await readText(what, resolve(folder, name), name);
  let value: unknown;
  try {
    value = JSON.parse(source.replace(/^\ufeff/, ""));
  } catch (error) {
    throw new UsageError(`${what} ${name} is not JSON: ${(error as Error).message}`);
  }
  const repeated = repeatedName(source);
  if (repeated) throw unusable(what, name, [{ path: repeated, message: REPEATED }]);
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  throw unusable(what, name, parsed.error.issues.flatMap(faultsOf));
}

/** A name that does not belong is pointed at by itself, so that nobody need search for it. */
function faultsOf(issue: z.core.$ZodIssue): readonly JsonFault[] {
  if (issue.code !== "unrecognized_keys") return [issue];
  return issue.keys.map((key) => ({ path: [...issue.path, key], message: "is not a known name here; leave it out" }));
}

export function unusable(what: string, name: string, faults: readonly JsonFault[]): UsageError {
  const lines = faults.map(({ path, message }) => `  ${pointerTo(path) || "(the whole)"}: ${message}`);
  return new UsageError(`${what} ${name} can't be used:\n${lines.join("\n")}`);
}

async function readText(what: string, path: string, name: string): Promise<string> {
  try {
    return await readFile(path, "utf8");
  } catch (error) {
    throw new UsageError(`${what} ${name} can't be read: ${(error as Error).message}`);
  }
}

function pointerTo(path: readonly PropertyKey[]): string {
  return path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}
