import fc from "fast-check";
import { expect, test } from "vitest";
import { nextWaitMs, parseRetryAfter, RETRY_WAITS_MS } from "../../../worker/webhooks/retry-schedule.js";

const HOUR = 3_600_000;

test("ten tries within three days and a bit, without jitter", () => {
  expect(RETRY_WAITS_MS).toHaveLength(9);
  const together = RETRY_WAITS_MS.reduce((sum, wait) => sum + wait, 0);
  expect(together).toBe(75 * HOUR + 35 * 60_000 + 5_000);
});

test("after the tenth try there is no other", () => {
  expect(nextWaitMs(9, undefined, 0.5)).toBe(24 * HOUR);
  expect(nextWaitMs(10, undefined, 0.5)).toBeUndefined();
});

test("a wait stays within a fifth of its plan, and is never shorter than the receiver asked, up to a day", () => {
  const tries = fc.integer({ min: 1, max: 9 });
  const chance = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(tries, chance, fc.option(fc.nat(100 * HOUR), { nil: undefined }), (made, luck, asked) => {
      const wait = nextWaitMs(made, asked, luck)!;
      const planned = RETRY_WAITS_MS[made - 1]!;
      const leastAsked = Math.min(asked ?? 0, 24 * HOUR);
      expect(wait).toBeGreaterThanOrEqual(Math.floor(Math.max(planned * 0.8, leastAsked)));
      expect(wait).toBeLessThanOrEqual(Math.ceil(Math.max(planned * 1.2, leastAsked)));
    }),
  );
});

test.each([
  ["120", 120_000],
  [" 0 ", 0],
  ["Wed, 25 Nov 2026 09:10:00 GMT", 600_000],
  ["Wed, 25 Nov 2026 08:00:00 GMT", 0],
  ["soon", undefined],
  ["-5", undefined],
  ["1e9", undefined],
  [undefined, undefined],
])("Retry-After %s is %s ms", (text, ms) => {
  expect(parseRetryAfter(text, new Date("2026-11-25T09:00:00Z"))).toBe(ms);
});
