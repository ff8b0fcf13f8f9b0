import { existsSync } from "node:fs";
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";

/** One folder of samples/: documents that are handed in together, and what must come of them. */
export interface Sample {
  readonly name: string;
  readonly documents: readonly { readonly name: string; readonly bytes: Uint8Array<ArrayBuffer> }[];
  readonly requirement: string | undefined;
  readonly expected: Expected;
}

export interface Expected {
  readonly verdict: string;
  readonly heats: Readonly<Record<string, { readonly verdict: string }>>;
}

const NOT_DOCUMENTS = ["expected.json", "requirement.json"];

export async function readSamples(folder: string): Promise<readonly Sample[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  const whole = names.filter((name) => existsSync(join(folder, name, "expected.json"))).sort();
  return await Promise.all(whole.map((name) => readSample(folder, name)));
}

async function readSample(folder: string, name: string): Promise<Sample> {
  const path = join(folder, name);
  const files = (await readdir(path)).sort();
  const documents = files.filter((file) => !NOT_DOCUMENTS.includes(file));
  return {
    name,
    documents: await Promise.all(
      documents.map(async (file) => ({ name: file, bytes: new Uint8Array(await readFile(join(path, file))) })),
    ),
    requirement: files.includes("requirement.json")
      ? await readFile(join(path, "requirement.json"), "utf8")
      : undefined,
    expected: JSON.parse(await readFile(join(path, "expected.json"), "utf8")) as Expected,
  };
}
