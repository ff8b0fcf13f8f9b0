import type { AttemptOutcome } from "../store/deliveries.js";
import type { Claim, DueDelivery } from "../store/due-delivery.js";
import type { DeliveryAttempt } from "../store/records.js";
import { nextWaitMs, parseRetryAfter } from "../webhooks/retry-schedule.js";
import type { Answer } from "../webhooks/send.js";
import { signatureHeaders } from "../webhooks/sign.js";
import { persist } from "./persist.js";

export interface DeliverDeps {
  readonly deliveries: {
    claim(delivery: string, isTakenOver: boolean): Promise<Claim>;
    /** Gives a claim back untried. */
    release(delivery: string): Promise<void>;
    record(due: DueDelivery, attempt: Omit<DeliveryAttempt, "attempt">, outcome: AttemptOutcome): Promise<void>;
  };
  /** A turn at this receiver, or undefined when it has enough to do. */
  enter(url: string): Promise<(() => void) | undefined>;
  send(url: string, headers: Readonly<Record<string, string>>, body: string): Promise<Answer>;
  now(): Date;
  /** Between 0 and 1. */
  chance(): number;
  /** How long to try to write down a try. */
  readonly persistMs?: number;
}

export type DeliverOutcome =
  | {
      readonly kind: "tried";
      readonly state: AttemptOutcome["state"];
      readonly due: DueDelivery;
      readonly answer: Answer;
    }
  /** Not now: the receiver has enough to do, or somebody else may be at this delivery. */
  | { readonly kind: "put-off"; readonly waitMs: number }
  | { readonly kind: "nothing-to-do" };

/**
 * One try at one delivery. Every try is written down with what becomes of the delivery; the waits between tries are ours
 * and not the queue's, so they survive the loss of the queue.
 */
export async function deliverEvent(deps: DeliverDeps, delivery: string, isTakenOver = false): Promise<DeliverOutcome> {
  const { due, heldMs } = await deps.deliveries.claim(delivery, isTakenOver);
  if (heldMs !== undefined) return { kind: "put-off", waitMs: Math.max(1_000, heldMs) };
  if (!due) return { kind: "nothing-to-do" };
  const leave = await deps.enter(due.url);
  if (!leave) {
    await deps.deliveries.release(delivery);
    return { kind: "put-off", waitMs: BUSY_WAIT_MS * (1 + deps.chance()) };
  }
  try {
    return await tryDelivery(deps, due);
  } finally {
    leave();
  }
}

const BUSY_WAIT_MS = 3_000;
const PERSIST_MS = 20_000;

async function tryDelivery(deps: DeliverDeps, due: DueDelivery): Promise<DeliverOutcome> {
  const startedAt = deps.now();
  const clock = performance.now();
  const answer = due.isDisabled
    ? DISABLED_ANSWER
    : await deps.send(due.url, signatureHeaders(due.secrets, due.event, startedAt, due.body), due.body);
  const outcome: AttemptOutcome =
    due.isDisabled || answer.status === 410 ? { state: "disabled" } : outcomeOf(deps, due, answer);

  const { retryAfter: _, ...kept } = answer;
  const durationMs = Math.round(performance.now() - clock);
  await persist(
    () => deps.deliveries.record(due, { startedAt, durationMs, ...kept }, outcome),
    deps.persistMs ?? PERSIST_MS,
  );
  return { kind: "tried", state: outcome.state, due, answer };
}

const DISABLED_ANSWER: Answer = {
  problem: "disabled",
  detail: "This receiver is disabled: it answered 410, took nothing for too long, or its owner asked for it.",
};

function outcomeOf(deps: DeliverDeps, due: DueDelivery, answer: Answer): AttemptOutcome {
  if (answer.problem === undefined) return { state: "delivered" };
  const retryAfterMs = nextWaitMs(due.tries + 1, parseRetryAfter(answer.retryAfter, deps.now()), deps.chance());
  return retryAfterMs === undefined ? { state: "failed" } : { state: "pending", retryAfterMs };
}
