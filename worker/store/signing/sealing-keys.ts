import { createHash, randomBytes, randomUUID } from "node:crypto";
import { link, mkdir, open, readFile, rm } from "node:fs/promises";
import { dirname, join } from "node:path";

/** A key that keeps other secrets unreadable in the database. */
export interface SealingKey {
  /** Says which key a secret was sealed with, and nothing about the key. */
  readonly id: string;
  readonly bytes: Buffer;
}

export class BadSealingKey extends Error {
  override readonly name = "BadSealingKey";
}

const KEY_BYTES = 32;

/** What to do where the key is not the one, or not there. */
export const SEALING_KEY_ADVICE =
  "Every process needs the same file: name it with HEATGATE_SEALING_KEY_FILE, or put the lost one back from your backup. " +
  "If it is lost for good: heatgate signing replace-lost-seal";

/** The file that a setting names, or the data folder's own. */
export function sealingKeyPath(dataFolder: string, named: string | undefined): string {
  return named ?? join(dataFolder, "sealing.key");
}

/**
 * The keys in a file, one a line, as the base64 of 32 random bytes: the first seals, all of them open. `make`: where there is no
 * file, one is made that only its owner can read. Throws `BadSealingKey`.
 */
export async function loadSealingKeys(path: string, make: boolean): Promise<readonly SealingKey[]> {
  const text = await readFile(path, "utf8").catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT" && make) return undefined;
    throw new BadSealingKey(
      `The key that the secrets in the database are sealed with cannot be read: ${error.message}. ${SEALING_KEY_ADVICE}`,
    );
  });
  if (text === undefined) {
    await makeKeyFile(path);
    return await loadSealingKeys(path, false);
  }
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== "" && !line.startsWith("#"));
  if (lines.length === 0) throw new BadSealingKey(`${path} holds no key.`);
  return lines.map((line) => readKey(line.trim(), path));
}

function readKey(line: string, path: string): SealingKey {
  const bytes = Buffer.from(line, "base64");
  if (bytes.length !== KEY_BYTES || !/^[A-Za-z0-9+/]+=*$/.test(line)) {
    throw new BadSealingKey(`${path}: each line must be the base64 of ${KEY_BYTES} bytes: openssl rand -base64 32`);
  }
  return { id: createHash("sha256").update(bytes).digest("hex").slice(0, 16), bytes };
}

/** Two processes may start on a new folder at once: the file appears whole and under its name once, for both of them. */
async function makeKeyFile(path: string): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const draft = `${path}.${randomUUID()}`;
  const handle = await open(draft, "wx", 0o600);
  try {
    await handle.writeFile(`${randomBytes(KEY_BYTES).toString("base64")}\n`);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await link(draft, path).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== "EEXIST") throw error;
  });
  await rm(draft);
  // Until the folder is flushed a power cut could take the name, and with it everything that was sealed since.
  const folder = await open(dirname(path), "r");
  await folder.sync().finally(() => folder.close());
}
