import { SpanKind, SpanStatusCode } from "@opentelemetry/api";
import type { RunningWork } from "../queue/queue.js";
import { recordAttempt } from "../store/deliveries.js";
import { claimDelivery, releaseDelivery } from "../store/due-delivery.js";
import { currentTraceparent, inSpan } from "../tracing/span.js";
import type { ReceiverPolicy } from "../webhooks/address-guard.js";
import { createReceiverSlots } from "../webhooks/receiver-slots.js";
import { type Answer, send } from "../webhooks/send.js";
import type { WorkerDeps, WorkerSettings } from "../worker-deps.js";
import { type DeliverDeps, deliverEvent } from "./deliver-event.js";
import { observeJobs } from "./observe-jobs.js";

const DELIVERIES_AT_ONCE = 50;
const RECEIVER_LIMITS = { active: 4, waiting: 8, waitMs: 1_000 };

export function startDelivering(deps: WorkerDeps, settings: WorkerSettings): RunningWork {
  const { log, metrics } = deps;
  const deliverDeps = wireDeliveries(deps, settings);
  return observeJobs(deps, "deliver", DELIVERIES_AT_ONCE, async (delivery, { isTakenOver }) => {
    const outcome = await deliverEvent(deliverDeps, delivery, isTakenOver);
    if (outcome.kind === "put-off") return { later: outcome.waitMs };
    if (outcome.kind === "tried") {
      const { state, due, answer } = outcome;
      metrics.deliveries.inc({ state });
      log.info(
        {
          event: due.event,
          submission: due.submission,
          endpoint: due.endpoint,
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

/** The receiver is told the trace that its event comes from, so that it can go on with it. */
function sendTraced(
  url: string,
  headers: Readonly<Record<string, string>>,
  body: string,
  policy: ReceiverPolicy,
): Promise<Answer> {
  const attributes = { "http.request.method": "POST", "server.address": new URL(url).hostname };
  return inSpan("deliver", { kind: SpanKind.CLIENT, attributes }, async (span) => {
    const traceparent = currentTraceparent();
    const answer = await send(url, { ...headers, ...(traceparent !== undefined && { traceparent }) }, body, { policy });
    if (answer.status !== undefined) span.setAttribute("http.response.status_code", answer.status);
    if (answer.problem !== undefined) {
      span.setAttribute("error.type", answer.problem);
      span.setStatus({ code: SpanStatusCode.ERROR });
    }
    return answer;
  });
}

function wireDeliveries({ pool, queue, sealer }: WorkerDeps, settings: WorkerSettings): DeliverDeps {
  const attemptDeps = { pool, queue, disableAfterMs: settings.disableEndpointAfterMs };
  return {
    deliveries: {
      claim: (delivery, isTakenOver) => claimDelivery(pool, sealer, delivery, isTakenOver),
      release: (delivery) => releaseDelivery(pool, delivery),
      record: (due, attempt, outcome) => recordAttempt(attemptDeps, due, attempt, outcome),
    },
    enter: createReceiverSlots(RECEIVER_LIMITS).enter,
    send: (url, headers, body) => sendTraced(url, headers, body, settings.receivers),
    now: () => new Date(),
    chance: Math.random,
  };
}
