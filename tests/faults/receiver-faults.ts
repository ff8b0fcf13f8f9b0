import { writeFile } from "node:fs/promises";
import type { IncomingMessage, ServerResponse } from "node:http";
import { createServer } from "node:http";
import { createServer as createTlsServer } from "node:https";
import type { AddressInfo, Socket } from "node:net";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { EVERY_OWNER } from "../../worker/store/records.js";
import { openEndpoints } from "../../worker/store/sql-endpoints.js";
import { startReceiver } from "../support/receiver.js";
import { selfSigned } from "../support/self-signed.js";
import type { Fault } from "./fault.js";
import { buildWorld, type World } from "./world.js";

const MEGABYTE = "x".repeat(1_000_000);

/** What it does to every request, and what the first try is to be written down as. */
interface BadReceiver {
  readonly name: string;
  readonly expected: string;
  readonly scheme?: "https";
  /** Speaks TLS, with a certificate that nobody vouches for. */
  readonly selfSigned?: true;
  answer(request: IncomingMessage, response: ServerResponse): void;
}

const BAD_RECEIVERS: readonly BadReceiver[] = [
  { name: "trickles its headers", expected: "timeout", answer: ({ socket }) => trickle(socket) },
  {
    name: "answers without end",
    expected: "delivered",
    answer(_, response) {
      response.writeHead(200);
      const more = () => {
        if (!response.destroyed) response.write(MEGABYTE, () => setImmediate(more));
      };
      more();
    },
  },
  {
    name: "sends elsewhere",
    expected: "status",
    answer: (_, response) => void response.writeHead(302, { location: "http://169.254.169.254/latest" }).end(),
  },
  { name: "speaks no TLS where https is asked for", expected: "connection", scheme: "https", answer: () => {} },
  {
    name: "shows a certificate that nobody vouches for",
    expected: "connection",
    scheme: "https",
    selfSigned: true,
    answer: (_, response) => void response.writeHead(200).end(),
  },
  { name: "hangs up", expected: "connection", answer: ({ socket }) => void socket.destroy() },
];

const EACH = 6;
const GOOD = 60;

const badReceivers: Fault = {
  name: "receivers that trickle, never end, redirect, break TLS and hang up, beside a good one",
  // A trickling one is waited for as long. Whoever stood in line behind it would need longer.
  limitMs: 20_000,
  async run() {
    const world = await buildWorld();
    const servers = await Promise.all(BAD_RECEIVERS.map(listen));
    await world.startWorker();
    const submitted = new Map<string, string>();
    for (const [at, { name, scheme = "http" }] of BAD_RECEIVERS.entries()) {
      for (let number = 0; number < EACH; number++) {
        const id = await world.submit(`wait 0 ${name} ${number}`, `${scheme}://127.0.0.1:${servers[at]!.port}/events`);
        submitted.set(id!, name);
      }
    }
    for (let number = 0; number < GOOD; number++) await world.submit(`wait 0 good ${number}`);
    const handedIn = performance.now();
    await world.receiver.waitFor(GOOD);
    const recoveredMs = performance.now() - handedIn;

    const broken: string[] = [];
    const seen = new Map<string, Set<string>>();
    for (const [id, name] of submitted) {
      const first = await firstTry(world.stores.records.listDeliveries, id);
      seen.set(name, (seen.get(name) ?? new Set()).add(first));
    }
    for (const { name, expected } of BAD_RECEIVERS) {
      const found = [...(seen.get(name) ?? [])].join(", ");
      if (found !== expected) broken.push(`one that ${name} was written down as ${found}`);
    }
    await Promise.all(servers.map(({ close }) => close()));
    const accepted = world.accepted.length;
    await world.end();
    return { recoveredMs, accepted, note: "time until the good one had heard everything", broken };
  },
};

/** How the first try ended: its problem, or the delivery's state. Tries take 20 s at most, four at a time. */
async function firstTry(
  listDeliveries: (
    id: string,
    owner: typeof EVERY_OWNER,
  ) => Promise<readonly { readonly state: string; readonly attempts: readonly { readonly problem?: string }[] }[]>,
  id: string,
): Promise<string> {
  for (let looks = 0; looks < 900; looks++) {
    const [delivery] = await listDeliveries(id, EVERY_OWNER);
    const [first] = delivery?.attempts ?? [];
    if (first) return first.problem ?? delivery!.state;
    await sleep(100);
  }
  return "not tried";
}

function trickle(socket: Socket): void {
  socket.write("HTTP/1.1 200 OK\r\nx: ");
  const timer = setInterval(() => socket.write("x"), 200);
  socket.once("close", () => clearInterval(timer)).on("error", () => {});
}

async function listen({ answer, selfSigned: isTls }: BadReceiver) {
  const handle = (request: IncomingMessage, response: ServerResponse) => {
    request.resume();
    answer(request, response);
  };
  const server = isTls ? createTlsServer(selfSigned(), handle) : createServer(handle);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    port: (server.address() as AddressInfo).port,
    close: () =>
      new Promise<void>((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}

/** Each is one address too many: of the cloud's own service, of a neighbour, of that neighbour in IPv6 clothes, beside a good one. */
const REBOUND = ["169.254.169.254", "10.0.0.7", "::ffff:10.0.0.7", "127.0.0.1\n10.0.0.7"];
const OWNER = "yard";

const rebinding: Fault = {
  name: "a receiver's name comes to stand for inner addresses, and for its own again (fake name service)",
  limitMs: 20_000,
  quick: true,
  async run() {
    const world = await buildWorld();
    const told = await startReceiver();
    const port = new URL(told.url).port;
    const names = join(world.environment.HEATGATE_DATA, "names");
    await writeFile(names, "127.0.0.1");
    const allowed = { HEATGATE_WEBHOOK_ALLOW: "loopback http", HEATGATE_WEBHOOK_PORTS: port, FAULTS_NAMES: names };
    await world.startWorker(allowed);
    const endpoints = openEndpoints(world.stores);
    const url = `http://receiver.example:${port}/events`;
    const { endpoint } = await endpoints.create(
      OWNER,
      { url, description: "", body: "thin" },
      { kind: "v1" },
      "faults",
    );
    // The callback of each goes to the same name.
    const submit = (text: string) => world.submit(`wait 0 ${text}`, url, { owner: OWNER });
    await submit("before");
    await told.waitFor(2);

    const broken: string[] = [];
    const { listDeliveries } = world.stores.records;
    for (const addresses of REBOUND) {
      await writeFile(names, addresses);
      const id = (await submit(addresses))!;
      const seen = await firstTry(listDeliveries, id);
      if (seen !== "address-blocked") broken.push(`${addresses.replace("\n", " and ")} was written down as ${seen}`);
    }
    const flagged = await endpoints.get(OWNER, endpoint.id);
    if (!flagged?.failingSince) broken.push("nothing is said of the endpoint");
    if (told.received.length !== 2) broken.push("it was told something meanwhile");
    await writeFile(names, "127.0.0.1");
    const again = await askAgainForThoseTriedTwice(world);
    const recoveredMs = await world.settle(this.limitMs * 2);
    broken.push(...(await world.check(told.received)));
    if ((await endpoints.get(OWNER, endpoint.id))?.failingSince) broken.push("the endpoint is still said to fail");
    const accepted = world.accepted.length;
    await told.close();
    await world.end();
    const note = `${REBOUND.length} times blocked before anything was sent; the endpoint was flagged; ${again} asked for again`;
    return { recoveredMs, accepted, note, broken };
  },
};

/** On a slow machine the second try, 5 s after the first, meets a wrong address as well. The third is due in 5 minutes, or when asked for. */
async function askAgainForThoseTriedTwice({ accepted, stores: { records } }: World): Promise<number> {
  let asked = 0;
  for (const id of accepted) {
    const deliveries = await records.listDeliveries(id, EVERY_OWNER);
    if (!deliveries.some(({ state, attempts }) => state === "pending" && attempts.length > 1)) continue;
    await records.redeliver(id, OWNER);
    asked++;
  }
  return asked;
}

export const RECEIVER_FAULTS: readonly Fault[] = [badReceivers, rebinding];
