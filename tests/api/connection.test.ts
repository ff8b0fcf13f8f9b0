import { once } from "node:events";
import { connect, type Socket } from "node:net";
import { afterEach, beforeEach, expect, it } from "vitest";
import { type RunningServer, startServer } from "../../api/server.js";
import { type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
let server: RunningServer;
const sockets: Socket[] = [];

beforeEach(async () => {
  api = testApi();
  server = await startServer("127.0.0.1", 0);
  server.serve(api.app);
});
afterEach(async () => {
  for (const socket of sockets.splice(0)) socket.destroy();
  await server.stop(0);
  api.remove();
});

async function open(): Promise<Socket> {
  const { port, hostname } = new URL(server.url);
  const socket = connect(Number(port), hostname);
  sockets.push(socket);
  await once(socket, "connect");
  return socket;
}

/** Everything that comes back until the other side closes. */
async function hear(socket: Socket): Promise<string> {
  let heard = "";
  socket.on("data", (chunk) => {
    heard += chunk;
  });
  await once(socket, "close");
  return heard;
}

const until = async (condition: () => boolean) => {
  while (!condition()) await new Promise((resolve) => setTimeout(resolve, 5));
};

const HEAD = "POST /v1/submissions HTTP/1.1\r\nHost: a\r\nContent-Type: text/csv\r\n";

it("a request that breaks off half way leaves no file and no row", async () => {
  const socket = await open();
  socket.write(`${HEAD}Content-Length: 1000\r\n\r\nHeat;C`);
  await until(() => api.uploads().length === 1);
  socket.destroy();
  await until(() => api.uploads().length === 0);
  expect(api.documents()).toEqual([]);
  expect(api.records.kept.size).toBe(0);
});

it("a multipart request that breaks off half way leaves no file and no row", async () => {
  const socket = await open();
  socket.write(
    "POST /v1/submissions HTTP/1.1\r\nHost: a\r\nContent-Type: multipart/form-data; boundary=x\r\nContent-Length: 1000\r\n\r\n" +
      '--x\r\nContent-Disposition: form-data; name="document"; filename="a.csv"\r\n\r\nHeat;C',
  );
  await until(() => api.uploads().length === 1);
  socket.destroy();
  await until(() => api.uploads().length === 0);
  expect(api.records.kept.size).toBe(0);
});

it("a body without a stated length is refused at the limit, before it ends", async () => {
  const socket = await open();
  const heard = hear(socket);
  socket.write(`${HEAD}Transfer-Encoding: chunked\r\n\r\n`);
  const chunk = `${(100_000).toString(16)}\r\n${"1".repeat(100_000)}\r\n`;
  for (let sent = 0; sent < 11; sent++) socket.write(chunk);
  // The sender never ends its body and still hears why.
  expect(await heard).toMatch(/^HTTP\/1\.1 413 /);
  expect(await heard).toContain('"code":"document-too-large"');
  expect(api.uploads()).toEqual([]);
});

it("what is not HTTP is answered with a problem as well", async () => {
  const socket = await open();
  const heard = hear(socket);
  socket.write("NONSENSE\r\n\r\n");
  expect(await heard).toMatch(/^HTTP\/1\.1 400 [\s\S]*application\/problem\+json[\s\S]*"code":"request-broken"/);
});

it("headers without end are answered with a problem as well", async () => {
  const socket = await open();
  const heard = hear(socket);
  socket.write(`GET / HTTP/1.1\r\nHost: a\r\nCookie: ${"a".repeat(20_000)}\r\n\r\n`);
  expect(await heard).toMatch(/^HTTP\/1\.1 431 [\s\S]*"code":"headers-too-large"/);
});

it("a polite stop lets the request that is running finish", async () => {
  const socket = await open();
  const heard = hear(socket);
  socket.write(`${HEAD}Connection: close\r\nContent-Length: 14\r\n\r\nHeat;C\n`);
  await until(() => api.uploads().length === 1);
  const stopped = server.stop(10_000);
  socket.write("A;0.02\n");
  expect(await heard).toMatch(/^HTTP\/1\.1 202 /);
  await stopped;
  expect(api.records.kept.size).toBe(1);
});

it("says that it is starting until it has something to serve", async () => {
  const starting = await startServer("127.0.0.1", 0);
  const response = await fetch(`${starting.url}/v1/submissions`);
  expect(response.status).toBe(503);
  expect(response.headers.get("retry-after")).toBe("2");
  expect(await response.json()).toMatchObject({ code: "starting" });
  await starting.stop(0);
});
