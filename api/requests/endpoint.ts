import { z } from "zod";
import { BODIES, type EndpointChange, type EndpointSettings, type NewSecret } from "../../worker/store/endpoints.js";
import { CHOSEN_TYPES } from "../../worker/store/event-types.js";
import { SIGNATURE_KINDS } from "../../worker/store/webhook-secret.js";
import { secretSchema } from "./callback.js";

const url = z
  .string()
  .max(2_000)
  .meta({ description: "Held to the same rules as a callback's", example: "https://erp.example/hooks" });
const description = z.string().trim().max(200);
const events = z
  .array(z.enum(CHOSEN_TYPES))
  .min(1)
  .refine((types) => new Set(types).size === types.length, "names a type twice");
const body = z.enum(BODIES).meta({
  description:
    "thin: ids, verdict and where to fetch the rest. full: `data.content` is the report or decision itself, where it has less than 256 kB",
});
const signature = z.enum(SIGNATURE_KINDS).meta({
  description:
    "v1: HMAC-SHA256 with a shared secret. v1a: Ed25519; the receiver needs only the public key, which cannot sign",
});
const secret = secretSchema.meta({ description: "Your own, for v1; made where it is left out" });

const SECRET_NEEDS_V1 = { message: "belongs to v1; of a v1a only this service has the private key", path: ["secret"] };
const fits = ({ signature, secret }: { signature: string; secret?: string | undefined }) =>
  signature === "v1" || secret === undefined;

export const newEndpointSchema = z
  .strictObject({
    url,
    description: description.default(""),
    events: events.optional().meta({ description: "Left out: every type, those to come included" }),
    body: body.default("thin"),
    signature: signature.default("v1"),
    secret: secret.optional(),
  })
  .refine(fits, SECRET_NEEDS_V1);

export const endpointChangeSchema = z
  .strictObject({
    url: url.optional(),
    description: description.optional(),
    events: events.nullable().optional().meta({ description: "null: every type again" }),
    body: body.optional(),
    state: z
      .enum(["active", "disabled"])
      .optional()
      .meta({ description: "active: after it was disabled. Replay what it missed" }),
  })
  .refine((change) => Object.keys(change).length > 0, "changes nothing");

const HOUR_MS = 3_600_000;

export const newSecretSchema = z
  .strictObject({
    signature: signature.default("v1"),
    secret: secret.optional(),
    oldForHours: z.number().min(0).max(168).default(24).meta({
      description: "How long the secrets until now sign beside the new one; 0 where one got into wrong hands",
    }),
  })
  .refine(fits, SECRET_NEEDS_V1);

export const replaySchema = z.strictObject({
  since: z.iso.datetime({ offset: true }),
  onlyUndelivered: z
    .boolean()
    .default(false)
    .meta({ description: "true: leave out what the endpoint has taken already" }),
});

/** A field that is left out is left out, and not undefined. */
export function settingsOf({ url, description, events, body }: z.output<typeof newEndpointSchema>): EndpointSettings {
  return { url, description, body, ...(events && { events }) };
}

export function secretOf({
  signature,
  secret,
}: {
  signature: NewSecret["kind"];
  secret?: string | undefined;
}): NewSecret {
  return { kind: signature, ...(secret !== undefined && { secret }) };
}

export function changeOf(change: z.output<typeof endpointChangeSchema>): EndpointChange {
  return Object.fromEntries(Object.entries(change).filter(([, value]) => value !== undefined));
}

export function oldEndAt(hours: number, now: Date): Date {
  return new Date(now.getTime() + hours * HOUR_MS);
}
