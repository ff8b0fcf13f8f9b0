import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { text } from "node:stream/consumers";
import { type Requirement, requirementSchema } from "../../core/requirement/requirement.js";
import { type Terminal, UsageError } from "./terminal.js";

/** Reads and checks a requirement. Every fault is listed with its JSON pointer, so that all can be mended in one go. */
export async function readRequirement(name: string, { stdin, folder }: Terminal): Promise<Requirement> {
  const source = name === "-" ? await text(stdin) : await readText(resolve(folder, name), name);
  let value: unknown;
  try {
    value = JSON.parse(source.replace(/^\ufeff/, ""));
  } catch (error) {
    throw new UsageError(`the requirement ${name} is not JSON: ${(error as Error).message}`);
  }
  const parsed = requirementSchema.safeParse(value);
  if (parsed.success) return parsed.data;
  const faults = parsed.error.issues.map(({ path, message }) => `  ${pointer(path) || "(the whole)"}: ${message}`);
  throw new UsageError(`the requirement ${name} can't be used:\n${faults.join("\n")}`);
}

async function readText(path: string, name: string): Promise<string> {
  try {
    return await readFile(path, "utf8");
  } catch (error) {
    throw new UsageError(`the requirement ${name} can't be read: ${(error as Error).message}`);
  }
}

function pointer(path: readonly PropertyKey[]): string {
  return path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}
