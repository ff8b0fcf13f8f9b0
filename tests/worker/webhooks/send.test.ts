import type { LookupAddress } from "node:dns";
import type { ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { createServer } from "node:net";
import { afterEach, expect, test } from "vitest";
import { STRICT_POLICY } from "../../../worker/webhooks/address-guard.js";
import { type SendOptions, send } from "../../../worker/webhooks/send.js";
import { startReceiver } from "../../support/receiver.js";

const LOOPBACK: SendOptions = { policy: { ...STRICT_POLICY, loopback: true } };
const closing: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0)) await close();
});

async function receiver(answer?: (response: ServerResponse) => void) {
  const started = await startReceiver(answer);
  closing.push(started.close);
  return started;
}

test("a 2xx is delivered, with the body and headers as given", async () => {
  const { url, received } = await receiver((response) => void response.writeHead(202).end("thanks"));
  const answer = await send(url, { "webhook-id": "evt_1" }, '{"a":"é"}', LOOPBACK);
  expect(answer).toEqual({ status: 202, address: "127.0.0.1", answer: "thanks" });
  expect(received[0]).toMatchObject({
    body: '{"a":"é"}',
    headers: { "webhook-id": "evt_1", "content-type": "application/json", "content-length": "10" },
  });
});

test.each([301, 302, 307, 308, 400, 404, 410, 429, 500, 503])("a %i is an answer, not a delivery", async (status) => {
  const elsewhere = await receiver();
  const { url } = await receiver(
    (response) => void response.writeHead(status, { location: elsewhere.url, "retry-after": "7" }).end(),
  );
  const answer = await send(url, {}, "{}", LOOPBACK);
  expect(answer).toMatchObject({ status, problem: "status", retryAfter: "7" });
  expect(elsewhere.received).toEqual([]);
});

test("a huge answer is cut off; its status counts", async () => {
  const { url } = await receiver((response) => {
    response.writeHead(200);
    const pour = () => {
      while (response.write("x".repeat(65_536)));
    };
    response.on("drain", pour);
    response.on("error", () => {});
    pour();
  });
  const answer = await send(url, {}, "{}", LOOPBACK);
  expect(answer.status).toBe(200);
  expect(answer.answer).toHaveLength(4_096);
});

test("a receiver that trickles its headers meets the total deadline", async () => {
  const server = createServer((socket) => {
    socket.write("HTTP/1.1 200 OK\r\n");
    const timer = setInterval(() => socket.write("x-more: 1\r\n"), 20);
    socket.on("error", () => {});
    socket.on("close", () => clearInterval(timer));
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  closing.push(() => new Promise((resolve) => server.close(() => resolve())));
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  expect(await send(url, {}, "{}", { ...LOOPBACK, deadlineMs: 300 })).toMatchObject({
    problem: "timeout",
    address: "127.0.0.1",
  });
});

test("a receiver that never answers, and one that hangs up", async () => {
  const silent = await receiver(() => {});
  expect(await send(silent.url, {}, "{}", { ...LOOPBACK, deadlineMs: 200 })).toMatchObject({ problem: "timeout" });
  const rude = await receiver((response) => response.destroy());
  expect(await send(rude.url, {}, "{}", LOOPBACK)).toMatchObject({ problem: "connection" });
});

test("nobody there, and https spoken to a plain server", async () => {
  const gone = await startReceiver();
  await gone.close();
  expect(await send(gone.url, {}, "{}", LOOPBACK)).toMatchObject({ problem: "connection" });
  const plain = await receiver();
  const answer = await send(plain.url.replace("http:", "https:"), {}, "{}", LOOPBACK);
  expect(answer).toMatchObject({ problem: "connection" });
  expect(plain.received).toEqual([]);
});

test("under the strict policy nothing on this machine is called", async () => {
  const { url, received } = await receiver();
  for (const target of [url, url.replace("127.0.0.1", "localhost"), url.replace("http:", "https:")]) {
    expect(await send(target, {}, "{}", { policy: STRICT_POLICY })).toMatchObject({ problem: "address-blocked" });
  }
  expect(received).toEqual([]);
});

test("a name is judged by every address it has", async () => {
  const { received } = await receiver();
  const names: Record<string, LookupAddress[]> = {
    "inside.example": [{ address: "10.0.0.5", family: 4 }],
    "mixed.example": [
      { address: "203.0.114.9", family: 4 },
      { address: "127.0.0.1", family: 4 },
    ],
    "nat64.example": [{ address: "64:ff9b::7f00:1", family: 6 }],
    "empty.example": [],
  };
  const ask = (host: string) =>
    send(`https://${host}/`, {}, "{}", { policy: STRICT_POLICY, resolve: async () => names[host]! });
  expect(await ask("inside.example")).toMatchObject({
    problem: "address-blocked",
    detail: expect.stringContaining("10.0.0.5"),
  });
  expect(await ask("mixed.example")).toMatchObject({
    problem: "address-blocked",
    detail: expect.stringContaining("127.0.0.1"),
  });
  expect(await ask("nat64.example")).toMatchObject({ problem: "address-blocked" });
  expect(await ask("empty.example")).toMatchObject({ problem: "connection" });
  expect(received).toEqual([]);
});

test("a name that changes its answer after the check gains nothing: it is asked once, and that address is called", async () => {
  const { url, received } = await receiver();
  let asked = 0;
  const rebinding = async (): Promise<LookupAddress[]> => {
    asked++;
    return [{ address: asked === 1 ? "127.0.0.1" : "169.254.169.254", family: 4 }];
  };
  const target = url.replace("127.0.0.1", "rebinding.localhost");
  expect(await send(target, {}, "{}", { ...LOOPBACK, resolve: rebinding })).toEqual({
    status: 204,
    address: "127.0.0.1",
  });
  expect(asked).toBe(1);
  expect(received).toHaveLength(1);
});
