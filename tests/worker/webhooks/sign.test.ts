import { Webhook } from "standardwebhooks";
import { expect, test } from "vitest";
import { signatureHeaders } from "../../../worker/webhooks/sign.js";

const SECRET = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";
const BODY = '{"test": 2432232314}';

test("the specification's own example comes out to the letter", () => {
  // Standard Webhooks 1.0.0, reference libraries' test vector (id, time, body and signature as published there).
  const headers = signatureHeaders([SECRET], "msg_p5jXN8AQM9LWM0D4loKWxJek", new Date(1_614_265_330_000), BODY);
  expect(headers).toEqual({
    "webhook-id": "msg_p5jXN8AQM9LWM0D4loKWxJek",
    "webhook-timestamp": "1614265330",
    "webhook-signature": "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=",
  });
});

test("the published library accepts it, and refuses another body, id, time or secret", () => {
  const now = new Date();
  const headers = signatureHeaders([SECRET], "evt_1", now, BODY);
  const webhook = new Webhook(SECRET);
  expect(webhook.verify(BODY, headers)).toEqual(JSON.parse(BODY));
  expect(() => webhook.verify(`${BODY} `, headers)).toThrow();
  expect(() => webhook.verify(BODY, { ...headers, "webhook-id": "evt_2" })).toThrow();
  const later = String(Math.floor(now.getTime() / 1000) + 1);
  expect(() => webhook.verify(BODY, { ...headers, "webhook-timestamp": later })).toThrow();
  expect(() => new Webhook("whsec_AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA").verify(BODY, headers)).toThrow();
});
