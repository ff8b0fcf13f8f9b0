import { expect, test } from "vitest";
import { createReceiverSlots } from "../../../worker/webhooks/receiver-slots.js";

const SLOW = "https://slow.example/x";

test("one receiver gets so many at once, a few more wait, the rest come back later; another receiver is free", async () => {
  const slots = createReceiverSlots({ active: 2, waiting: 1, waitMs: 60_000 });
  const [first, second] = [await slots.enter(SLOW), await slots.enter("https://slow.example/other-path")];
  const waiting = slots.enter(SLOW);
  expect(await slots.enter(SLOW)).toBeUndefined();
  expect(await slots.enter("https://quick.example/x")).toBeTypeOf("function");

  first!();
  const third = await waiting;
  expect(third).toBeTypeOf("function");
  expect(await Promise.race([slots.enter(SLOW), Promise.resolve("waits")])).toBe("waits");
  second!();
  third!();
});

test("waiting ends with patience, and the line closes up behind it", async () => {
  const slots = createReceiverSlots({ active: 1, waiting: 2, waitMs: 10 });
  const first = await slots.enter(SLOW);
  expect(await slots.enter(SLOW)).toBeUndefined();
  first!();
  const again = await slots.enter(SLOW);
  expect(again).toBeTypeOf("function");
  again!();
});
