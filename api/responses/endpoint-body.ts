import { z } from "zod";
import { BODIES, type Endpoint, type WithSecret } from "../../worker/store/endpoints.js";
import { EVENT_TYPES } from "../../worker/store/event-types.js";
import { SIGNATURE_KINDS } from "../../worker/store/webhook-secret.js";

const signatureSchema = z.strictObject({
  kind: z.enum(SIGNATURE_KINDS),
  publicKey: z.string().exactOptional().meta({ description: "whpk_…, of a v1a" }),
  createdAt: z.iso.datetime(),
  endsAt: z.iso.datetime().exactOptional(),
});

export const endpointSchema = z
  .strictObject({
    id: z.string(),
    url: z.string(),
    description: z.string(),
    events: z.array(z.enum(EVENT_TYPES)).nullable().meta({ description: "null: every type" }),
    body: z.enum(BODIES),
    state: z.enum(["active", "disabled"]),
    disabledAt: z.iso.datetime().exactOptional(),
    disabledBecause: z
      .enum(["gone", "failing", "asked"])
      .exactOptional()
      .meta({ description: "gone: it answered 410. failing: it took nothing for too long. asked: its owner said so" }),
    failingSince: z.iso.datetime().exactOptional().meta({ description: "The first failure since the last success" }),
    createdAt: z.iso.datetime(),
    signatures: z.array(signatureSchema).meta({ description: "What signs now, newest first" }),
    links: z.strictObject({ self: z.string(), deliveries: z.string() }),
  })
  .meta({ id: "Endpoint" });

export const endpointWithSecretSchema = endpointSchema
  .extend({ secret: z.string().exactOptional().meta({ description: "Of a v1, told here and never again" }) })
  .meta({ id: "EndpointWithSecret" });

export const endpointsSchema = z.strictObject({ items: z.array(endpointSchema) });
export const testedSchema = z.strictObject({
  event: z.string().meta({ description: "The webhook-id of what is sent" }),
});
export const replayedSchema = z.strictObject({
  deliveries: z.int().meta({ description: "How many are on their way" }),
  continueSince: z.iso
    .datetime()
    .exactOptional()
    .meta({ description: "There were too many for one call: ask again with this as since" }),
});

export function endpointBody(endpoint: Endpoint): z.infer<typeof endpointSchema> {
  const { id, url, description, events, body, state, createdAt, signatures } = endpoint;
  const { disabledAt, disabledBecause, failingSince } = endpoint;
  const self = `/v1/endpoints/${id}`;
  return {
    id,
    url,
    description,
    events: events ? [...events] : null,
    body,
    state,
    ...(disabledAt && { disabledAt: disabledAt.toISOString() }),
    ...(disabledBecause && { disabledBecause }),
    ...(failingSince && { failingSince: failingSince.toISOString() }),
    createdAt: createdAt.toISOString(),
    signatures: signatures.map(({ createdAt, endsAt, ...signature }) => ({
      ...signature,
      createdAt: createdAt.toISOString(),
      ...(endsAt && { endsAt: endsAt.toISOString() }),
    })),
    links: { self, deliveries: `${self}/deliveries` },
  };
}

export function endpointWithSecretBody({ endpoint, secret }: WithSecret): z.infer<typeof endpointWithSecretSchema> {
  return { ...endpointBody(endpoint), ...(secret !== undefined && { secret }) };
}
