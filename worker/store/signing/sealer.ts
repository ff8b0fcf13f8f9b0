import { createCipheriv, createDecipheriv, randomBytes } from "node:crypto";
import type { Queryable } from "../transaction.js";
import { BadSealingKey, SEALING_KEY_ADVICE, type SealingKey } from "./sealing-keys.js";

/** What a secret is for; a sealed one put in the place of another kind does not open. */
export type Purpose = "webhook-secret" | "signing-key";

export interface Sealer {
  seal(purpose: Purpose, secret: string): string;
  /** Gives back unsealed what was stored before secrets were sealed. Throws when it was changed, or its key is not here. */
  open(purpose: Purpose, sealed: string): string;
}

const CIPHER = "aes-256-gcm";
const NONCE_BYTES = 12;
const TAG_BYTES = 16;
const SEALED = /^sealed1:([0-9a-f]{16}):([A-Za-z0-9_-]+)$/;

/** AES-256-GCM with a new random nonce each time (NIST SP 800-38D). */
export function createSealer(keys: readonly SealingKey[]): Sealer {
  const [current] = keys;
  if (!current) throw new BadSealingKey("There is no sealing key.");
  return {
    seal(purpose, secret) {
      const nonce = randomBytes(NONCE_BYTES);
      const cipher = createCipheriv(CIPHER, current.bytes, nonce).setAAD(Buffer.from(purpose));
      const sealed = Buffer.concat([nonce, cipher.update(secret, "utf8"), cipher.final(), cipher.getAuthTag()]);
      return `sealed1:${current.id}:${sealed.toString("base64url")}`;
    },
    open(purpose, sealed) {
      const [, id, text = ""] = SEALED.exec(sealed) ?? [];
      if (id === undefined) return sealed;
      const key = keys.find((candidate) => candidate.id === id);
      if (!key)
        throw new BadSealingKey(`A secret was sealed with the key ${id}, which is not in the sealing key file.`);
      const bytes = Buffer.from(text, "base64url");
      const decipher = createDecipheriv(CIPHER, key.bytes, bytes.subarray(0, NONCE_BYTES))
        .setAAD(Buffer.from(purpose))
        .setAuthTag(bytes.subarray(-TAG_BYTES));
      return Buffer.concat([decipher.update(bytes.subarray(NONCE_BYTES, -TAG_BYTES)), decipher.final()]).toString(
        "utf8",
      );
    },
  };
}

export async function isSealed(client: Queryable): Promise<boolean> {
  const { rows } = await client.query("SELECT 1 FROM heatgate.sealing");
  return rows.length > 0;
}

/** Throws `BadSealingKey` where this database's secrets were sealed with a key that is not among these. */
export async function checkSealingKeys(client: Queryable, keys: readonly SealingKey[], path: string): Promise<void> {
  const current = keys[0]!.id;
  await client.query("INSERT INTO heatgate.sealing (key_id) VALUES ($1) ON CONFLICT DO NOTHING", [current]);
  const { rows } = await client.query<{ key_id: string }>("SELECT key_id FROM heatgate.sealing");
  const found = rows[0]!.key_id;
  if (!keys.some(({ id }) => id === found)) {
    throw new BadSealingKey(
      `The secrets in this database are sealed with the key ${found}, and ${path} holds ${keys.map(({ id }) => id).join(", ")}. ` +
        SEALING_KEY_ADVICE,
    );
  }
  if (found !== current) await client.query("UPDATE heatgate.sealing SET key_id = $1", [current]);
}
