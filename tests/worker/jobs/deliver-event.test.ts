import { expect, test } from "vitest";
import { type DeliverDeps, deliverEvent } from "../../../worker/jobs/deliver-event.js";
import type { AttemptOutcome } from "../../../worker/store/deliveries.js";
import type { Claim, DueDelivery } from "../../../worker/store/due-delivery.js";
import type { Answer } from "../../../worker/webhooks/send.js";

const DUE: DueDelivery = {
  id: "evt_1",
  event: "evt_1",
  submission: "s1",
  url: "https://receiver.example/x",
  secrets: ["whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw"],
  isDisabled: false,
  body: "{}",
  tries: 0,
};

/** Deliveries in memory, and a receiver that answers as told. */
function given({ due = DUE, claim = { due } as Claim, answer = { status: 204 } as Answer, busy = false }) {
  const did = { recorded: [] as AttemptOutcome[], attempts: [] as object[], sent: 0, released: 0, left: 0 };
  const deps: DeliverDeps = {
    deliveries: {
      claim: async (event) => (event === due.event ? claim : {}),
      release: async () => void did.released++,
      async record(_, attempt, outcome) {
        did.attempts.push(attempt);
        did.recorded.push(outcome);
      },
    },
    enter: async () => (busy ? undefined : () => void did.left++),
    async send() {
      did.sent++;
      return answer;
    },
    now: () => new Date("2026-11-25T09:00:00Z"),
    chance: () => 0.5,
  };
  return { deps, did };
}

const HOUR = 3_600_000;

test.each<[string, Answer, number, AttemptOutcome]>([
  ["204", { status: 204 }, 0, { state: "delivered" }],
  ["500 at the first try", { status: 500, problem: "status" }, 0, { state: "pending", retryAfterMs: 5_000 }],
  ["no answer at the second try", { problem: "timeout" }, 1, { state: "pending", retryAfterMs: 300_000 }],
  [
    "503 with Retry-After",
    { status: 503, problem: "status", retryAfter: "60" },
    0,
    { state: "pending", retryAfterMs: 60_000 },
  ],
  [
    "429 with a date",
    { status: 429, problem: "status", retryAfter: "Wed, 25 Nov 2026 11:00:00 GMT" },
    0,
    { state: "pending", retryAfterMs: 2 * HOUR },
  ],
  ["blocked address", { problem: "address-blocked" }, 0, { state: "pending", retryAfterMs: 5_000 }],
  ["410", { status: 410, problem: "status" }, 0, { state: "disabled" }],
  ["500 at the ninth try", { status: 500, problem: "status" }, 8, { state: "pending", retryAfterMs: 24 * HOUR }],
  ["500 at the tenth try", { status: 500, problem: "status" }, 9, { state: "failed" }],
  ["410 at the tenth try", { status: 410, problem: "status" }, 9, { state: "disabled" }],
])("%s", async (_name, answer, tries, outcome) => {
  const { deps, did } = given({ answer, due: { ...DUE, tries } });
  expect(await deliverEvent(deps, DUE.event)).toMatchObject({ kind: "tried", state: outcome.state });
  expect(did.recorded).toEqual([outcome]);
  expect(did.left).toBe(1);
});

test("a delivery that is over, or in other hands, is left alone", async () => {
  const { deps, did } = given({});
  expect(await deliverEvent(deps, "evt_2")).toEqual({ kind: "nothing-to-do" });
  expect(did).toMatchObject({ sent: 0, recorded: [] });
});

test("a busy receiver's delivery is given back untried", async () => {
  const { deps, did } = given({ busy: true });
  expect(await deliverEvent(deps, DUE.event)).toEqual({ kind: "put-off", waitMs: 4_500 });
  expect(did).toMatchObject({ sent: 0, released: 1, recorded: [] });
});

test("a delivery that somebody holds, or held when they died, is looked at again when their claim has run out", async () => {
  const { deps, did } = given({ claim: { heldMs: 12_345 } });
  expect(await deliverEvent(deps, DUE.event)).toEqual({ kind: "put-off", waitMs: 12_345 });
  expect(did).toMatchObject({ sent: 0, recorded: [] });
});

test("a receiver that said 410 once is not called", async () => {
  const { deps, did } = given({ due: { ...DUE, isDisabled: true } });
  expect(await deliverEvent(deps, DUE.event)).toMatchObject({ state: "disabled", answer: { problem: "disabled" } });
  expect(did).toMatchObject({ sent: 0, recorded: [{ state: "disabled" }] });
});

test("a try that was made is written down although the database is away for a moment, and not made again", async () => {
  const { deps, did } = given({});
  let away = 2;
  const { record } = deps.deliveries;
  const faltering: typeof record = async (...args) => {
    if (away-- > 0) throw new Error("database away");
    await record(...args);
  };
  const outcome = await deliverEvent({ ...deps, deliveries: { ...deps.deliveries, record: faltering } }, DUE.event);
  expect(outcome).toMatchObject({ state: "delivered" });
  expect(did).toMatchObject({ sent: 1, recorded: [{ state: "delivered" }] });
});

test("a turn at the receiver is given up even when the try cannot be written down", async () => {
  const { deps, did } = given({});
  const failing = {
    ...deps,
    persistMs: 0,
    deliveries: { ...deps.deliveries, record: () => Promise.reject(new Error("database gone")) },
  };
  await expect(deliverEvent(failing, DUE.event)).rejects.toThrow("database gone");
  expect(did.left).toBe(1);
});
