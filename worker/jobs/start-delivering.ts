import type { RunningWork } from "../queue/queue.js";
import { claimDelivery, isReceiverDisabled, recordAttempt, releaseDelivery } from "../store/deliveries.js";
import type { ReceiverPolicy } from "../webhooks/address-guard.js";
import { createReceiverSlots } from "../webhooks/receiver-slots.js";
import { send } from "../webhooks/send.js";
import type { WorkerDeps } from "../worker-deps.js";
import { type DeliverDeps, deliverEvent } from "./deliver-event.js";
import { observeJobs } from "./observe-jobs.js";

const DELIVERIES_AT_ONCE = 50;
const RECEIVER_LIMITS = { active: 4, waiting: 8, waitMs: 1_000 };

export function startDelivering(deps: WorkerDeps, policy: ReceiverPolicy): RunningWork {
  const { log, metrics } = deps;
  const deliverDeps = wireDeliveries(deps, policy);
  return observeJobs(deps, "deliver", DELIVERIES_AT_ONCE, async (event) => {
    const outcome = await deliverEvent(deliverDeps, event);
    if (outcome.kind === "put-off") return { later: outcome.waitMs };
    if (outcome.kind === "tried") {
      const { state, due, answer } = outcome;
      metrics.deliveries.inc({ state });
      log.info(
        {
          event,
          submission: due.submission,
          // The path and query of a callback may hold its owner's tokens.
          receiver: new URL(due.url).origin,
          tries: due.tries + 1,
          state,
          status: answer.status,
          problem: answer.problem,
        },
        "delivery tried",
      );
    }
    return undefined;
  });
}

function wireDeliveries({ pool, queue }: WorkerDeps, policy: ReceiverPolicy): DeliverDeps {
  return {
    deliveries: {
      claim: (event) => claimDelivery(pool, event),
      release: (event) => releaseDelivery(pool, event),
      isReceiverDisabled: (url) => isReceiverDisabled(pool, url),
      record: (due, attempt, outcome) => recordAttempt(pool, queue, due, attempt, outcome),
    },
    enter: createReceiverSlots(RECEIVER_LIMITS).enter,
    send: (url, headers, body) => send(url, headers, body, { policy }),
    now: () => new Date(),
    chance: Math.random,
  };
}
