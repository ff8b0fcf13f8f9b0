import { z } from "zod";
import { type KeyRecord, SCOPES } from "../../worker/store/keys.js";

export const keySchema = z
  .strictObject({
    id: z.string(),
    client: z.string(),
    name: z.string(),
    begins: z.string().meta({ description: "Its first characters, to tell keys apart" }),
    scopes: z.array(z.enum(SCOPES)),
    createdAt: z.iso.datetime(),
    expiresAt: z.iso.datetime().exactOptional(),
    revokedAt: z.iso.datetime().exactOptional(),
    lastUsedAt: z.iso.datetime().exactOptional().meta({ description: "To the minute" }),
  })
  .meta({ id: "Key" });

export const newKeyAnswerSchema = keySchema
  .extend({ key: z.string().meta({ description: "The key itself, told here and never again" }) })
  .meta({ id: "NewKey" });

export const keysSchema = z.strictObject({ items: z.array(keySchema) });

export function keyBody(key: KeyRecord): z.infer<typeof keySchema> {
  const { id, client, name, begins, scopes, createdAt, expiresAt, revokedAt, lastUsedAt } = key;
  return {
    id,
    client,
    name,
    begins,
    scopes: [...scopes],
    createdAt: createdAt.toISOString(),
    ...(expiresAt ? { expiresAt: expiresAt.toISOString() } : {}),
    ...(revokedAt ? { revokedAt: revokedAt.toISOString() } : {}),
    ...(lastUsedAt ? { lastUsedAt: lastUsedAt.toISOString() } : {}),
  };
}
