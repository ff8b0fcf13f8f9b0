import { execFile } from "node:child_process";
import { readFile, writeFile } from "node:fs/promises";
import { createServer, request as forward, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type RunningService, startService } from "../../api/main.js";
import { OPENING_MS } from "../support/engine.js";
import { temporaryFolder } from "../support/invented.js";

const SAMPLES = fileURLToPath(new URL("../../samples/", import.meta.url));
const TOO_MUCH_CARBON = join(SAMPLES, "carbon-too-high/aurenbach-a-240417.csv");
const CLEAN = join(SAMPLES, "clean-304l-plate/norrvik-ns-88213.xlsx");

let folder: Awaited<ReturnType<typeof temporaryFolder>>;
let service: RunningService;
let losing: Awaited<ReturnType<typeof startLosingProxy>>;

beforeAll(async () => {
  folder = await temporaryFolder();
  service = await startService({
    PORT: "0",
    HEATGATE_DATA: join(folder.path, "data"),
    HEATGATE_LOG_LEVEL: "silent",
  });
  losing = await startLosingProxy(service.url);
}, OPENING_MS);
afterAll(async () => {
  losing?.close();
  await service?.stop();
  await folder.remove();
});

test("keeps the heats of orders as the verdicts, corrections, decisions and erasures say", async () => {
  const failed = await handIn("4500012", TOO_MUCH_CARBON);
  await handIn("4500013", CLEAN);
  await settled(2);
  expect(await follow()).toEqual({ "4500012/A55107": "blocked", "4500013/N41827": "released" });

  await post(`/v1/submissions/${failed}/decisions`, {
    heat: "A55107",
    action: "concession",
    person: "M. Ostergaard",
    reason: "For the rail only",
  });
  expect(await follow()).toEqual({ "4500012/A55107": "released" });

  await post(`/v1/submissions/${failed}/erasure`, { person: "M. Aurland", reason: "Not our order" });
  expect(await follow()).toEqual({ "4500012/A55107": "waiting" });
  expect(await follow()).toEqual({});
});

test("what one submission blocked another does not release", async () => {
  const other = join(folder.path, "other.csv");
  await writeFile(other, (await readFile(TOO_MUCH_CARBON, "utf8")).replace(";0,034;", ";0,024;"));
  await handIn("4500014", TOO_MUCH_CARBON);
  await settled(1, "order:4500014");
  await handIn("4500014", other);
  await settled(2, "order:4500014");
  expect(await follow()).toEqual({ "4500014/A55107": "blocked" });
});

test("a correction stands in place of what it corrects", async () => {
  const failed = await handIn("4500016", TOO_MUCH_CARBON);
  await settled(1, "order:4500016");
  expect(await follow()).toEqual({ "4500016/A55107": "blocked" });

  const report = await get(`/v1/submissions/${failed}/report?format=json`);
  const carbon = report.heats[0].readings.find(({ quantity }: { quantity: string }) => quantity === "C");
  const { document: _, ...evidence } = carbon.evidence;
  const item = { document: report.documents[0].sha256, evidence, quantity: "C", value: "0.024", unit: "%" };
  await post(`/v1/submissions/${failed}/corrections`, {
    corrections: 1,
    by: "M. Aurland",
    date: "2026-11-25",
    items: [item],
  });
  await settled(2, "order:4500016");
  expect(await follow()).toEqual({ "4500016/A55107": "released" });
});

test("an answer that is lost costs nothing: the documents are handed in once", async () => {
  losing.loseNext();
  const id = await handIn("4500015", CLEAN);
  expect(losing.lost).toBe(1);
  const { items } = await get("/v1/submissions?tag=order:4500015");
  expect(items.map((item: { id: string }) => item.id)).toEqual([id]);
});

test.each([
  ["a key that is not valid", { KEY: "hg_live_x" }, ["follow", "--once"], /key-unknown.*\n$/],
  ["a requirement that is not stored", { REQUIREMENT: "t-999" }, ["hand-in", "1", CLEAN], /requirement-unknown/],
  ["no command", {}, [], /hand-in ORDER FILE/],
])("ends with a sentence for %s", async (_name, environment, words, sentence) => {
  await expect(run(words, environment)).rejects.toMatchObject({ code: 2, stderr: expect.stringMatching(sentence) });
});

async function run(words: readonly string[], environment: NodeJS.ProcessEnv = {}) {
  const { stdout } = await promisify(execFile)(
    process.execPath,
    [join(SAMPLES, "integration/goods-in.mjs"), ...words],
    { cwd: folder.path, env: { ...process.env, HEATGATE: losing.url, KEY: service.firstKey, ...environment } },
  );
  return stdout;
}

const goodsIn = (...words: readonly string[]) => run(words);
const handIn = async (...words: readonly string[]) => (await goodsIn("hand-in", ...words)).trim();

/** The last that it says of each heat, order/heat. */
async function follow(): Promise<Record<string, string>> {
  const lines = (await goodsIn("follow", "--once")).matchAll(/^order (\S+), heat (\S+): (\w+)/gm);
  return Object.fromEntries([...lines].map(([, order, heat, state]) => [`${order}/${heat}`, state!]));
}

const headers = () => ({ Authorization: `Bearer ${service.firstKey}`, "Content-Type": "application/json" });
// biome-ignore lint/suspicious/noExplicitAny: read one field at a time
const get = async (path: string): Promise<any> =>
  (await fetch(new URL(path, service.url), { headers: headers() })).json();

async function post(path: string, body: unknown) {
  const answer = await fetch(new URL(path, service.url), {
    method: "POST",
    headers: headers(),
    body: JSON.stringify(body),
  });
  expect(answer.ok, await answer.text()).toBe(true);
}

async function settled(count: number, tag?: string) {
  const list = `/v1/submissions?state=done${tag ? `&tag=${tag}` : ""}`;
  await expect.poll(async () => (await get(list)).items.length, { timeout: 20_000 }).toBe(count);
}

/** Passes everything on, and on demand breaks the connection when the whole answer to a POST is there. */
async function startLosingProxy(to: string) {
  let isLosing = false;
  const proxy = {
    url: "",
    lost: 0,
    loseNext: () => {
      isLosing = true;
    },
    close: () => void server.close(),
  };
  const server: Server = createServer((incoming, outgoing) => {
    const { method, url, headers } = incoming;
    const onward = forward(new URL(url!, to), { method: method!, headers }, (answer) => {
      if (isLosing && method === "POST") {
        isLosing = false;
        proxy.lost += 1;
        answer.resume().on("end", () => incoming.socket.destroy());
        return;
      }
      outgoing.writeHead(answer.statusCode!, answer.headers);
      answer.pipe(outgoing);
    });
    incoming.pipe(onward);
  });
  await new Promise<void>((resolve) => void server.listen(0, "127.0.0.1", resolve));
  proxy.url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return proxy;
}
