import { z } from "zod";
import type { DeliveryRecord, EventRecord } from "../../worker/store/records.js";
import { webhookBodySchema } from "./webhook-body.js";

const eventSchema = z
  .strictObject({
    id: z.string().meta({ description: "The webhook-id of its delivery" }),
    sequence: z.int(),
    type: z.string(),
    submission: z.string().exactOptional(),
    createdAt: z.iso.datetime(),
    body: webhookBodySchema.meta({ description: "As it is sent to receivers, in the thin form" }),
  })
  .meta({ id: "Event" });

export const eventsSchema = z.strictObject({
  items: z.array(eventSchema),
  next: z.int().meta({ description: "Ask with after=next for what comes later" }),
  removedThrough: z.int().exactOptional().meta({
    description: "Events up to this number are kept no more, and some of them come after the one that was asked from",
  }),
});

/** `horizon`: events up to this number are kept no more. */
export function eventsBody(
  events: readonly EventRecord[],
  after: number,
  horizon: number,
): z.infer<typeof eventsSchema> {
  return {
    items: events.map(({ body, createdAt, ...event }) => {
      return { ...event, createdAt: createdAt.toISOString(), body: JSON.parse(body) as { type: string } };
    }),
    next: events.at(-1)?.sequence ?? after,
    ...(horizon > after && { removedThrough: horizon }),
  };
}

const attemptSchema = z.strictObject({
  attempt: z.int(),
  startedAt: z.iso.datetime(),
  durationMs: z.number(),
  status: z.int().exactOptional(),
  address: z.string().exactOptional(),
  problem: z.string().exactOptional(),
  detail: z.string().exactOptional(),
  answer: z.string().exactOptional(),
});

const deliverySchema = z
  .strictObject({
    id: z.string(),
    event: z.string().meta({ description: "Its webhook-id" }),
    submission: z.string().exactOptional(),
    endpoint: z.string().exactOptional().meta({ description: "Absent for a submission's callback" }),
    url: z.string().meta({ description: "Of an endpoint no more than scheme, host and port" }),
    state: z.enum(["pending", "delivered", "failed", "disabled"]),
    nextAttemptAt: z.iso.datetime().exactOptional(),
    attempts: z.array(attemptSchema),
  })
  .meta({ id: "Delivery" });

export const deliveriesSchema = z.strictObject({ items: z.array(deliverySchema) });
export const deliveryPageSchema = deliveriesSchema.extend({
  next: z.string().exactOptional().meta({ description: "Address of the next page; absent on the last" }),
});

export function deliveryBody(delivery: DeliveryRecord): z.infer<typeof deliverySchema> {
  const { nextAttemptAt, attempts, ...told } = delivery;
  return {
    ...told,
    ...(nextAttemptAt ? { nextAttemptAt: nextAttemptAt.toISOString() } : {}),
    attempts: attempts.map((attempt) => ({ ...attempt, startedAt: attempt.startedAt.toISOString() })),
  };
}
