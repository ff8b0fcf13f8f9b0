import { once } from "node:events";
import { connect, type Socket } from "node:net";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
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

async function open({ url } = server, options: { readonly allowHalfOpen?: boolean } = {}): Promise<Socket> {
  const { port, hostname } = new URL(url);
  const socket = connect({ port: Number(port), host: hostname, ...options });
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

describe("a browser's form refused while it is still sending is answered with a page", () => {
  const FORM = `POST /submissions HTTP/1.1\r\nHost: a\r\nAccept: text/html,*/*;q=0.8\r\nContent-Type: multipart/form-data; boundary=x\r\n`;
  const UNFINISHED = `${FORM}Content-Length: 1000\r\n\r\n--x\r\n`;
  const PART = '--x\r\nContent-Disposition: form-data; name="document"; filename="a.csv"\r\n\r\n';

  async function refused(change: Parameters<typeof testApi>[0], sent: string, isSignedIn = true): Promise<string> {
    const other = testApi(change, { isSignedIn });
    const running = await startServer("127.0.0.1", 0);
    running.serve(other.app);
    try {
      const socket = await open(running);
      const heard = hear(socket);
      socket.write(sent);
      return await heard;
    } finally {
      await running.stop(0);
      expect(other.uploads()).toEqual([]);
      expect(other.records.kept.size).toBe(0);
      other.remove();
    }
  }

  const isPage = (answer: string, status: number, words: string) => {
    expect(answer).toMatch(new RegExp(`^HTTP/1.1 ${status} [^]*Content-Type: text/html[^]*<h1[^>]*>[^]*${words}`, "i"));
    expect(answer).toMatch(/content-security-policy: default-src 'none'/i);
    expect(answer).toMatch(/<\/html>\s*$/);
  };

  it("too large as stated", async () => {
    isPage(await refused({}, `${FORM}Content-Length: 90000000\r\n\r\n--x`), 413, "2000000 bytes");
  });
  it("a document too large as it comes", async () => {
    const limits = { documentBytes: 100, submissionBytes: 100_000, documents: 5 };
    const sent = `${FORM}Content-Length: 90000\r\n\r\n${PART}${"1".repeat(200)}`;
    isPage(await refused({ limits }, sent), 413, "a[.]csv is larger than the 100 bytes");
  });
  it("too much in a minute", async () => {
    isPage(await refused({ rates: { requestsPerMinute: 0, bytesPerMinute: 9_000 } }, UNFINISHED), 429, "0 requests");
  });
  it("too much waiting", async () => {
    isPage(await refused({ backlog: 0 }, UNFINISHED), 503, "0 submissions wait");
  });
  it("without a key", async () => {
    isPage(await refused({}, UNFINISHED, false), 401, "key");
  });
});

describe("a sender that trickles and never closes", () => {
  let impatient: RunningServer;
  beforeEach(async () => {
    impatient = await startServer("127.0.0.1", 0, { headersMs: 200, requestMs: 400, lookMs: 20, lingerMs: 100 });
    impatient.serve(api.app);
  });
  afterEach(() => impatient.stop(0));

  /** A piece every few milliseconds, whatever the other side says, for as long as it takes them. */
  async function trickle(start: string, piece: string): Promise<string> {
    const socket = await open(impatient, { allowHalfOpen: true });
    socket.on("error", () => {});
    let heard = "";
    socket.on("data", (chunk) => {
      heard += chunk;
    });
    socket.write(start);
    const timer = setInterval(() => socket.write(piece), 20);
    await new Promise((resolve) => socket.once("close", resolve));
    clearInterval(timer);
    return heard;
  }

  it.each([
    ["its first line", "GET /v1/sub", "m"],
    ["its headers", "GET /livez HTTP/1.1\r\nHost: a\r\n", "A: b\r\n"],
    ["the headers of an upload", HEAD, "A: b\r\n"],
  ])("%s hears 408 and loses its connection", async (_, start, piece) => {
    expect(await trickle(start, piece)).toMatch(
      /^HTTP\/1\.1 408 [\s\S]*application\/problem\+json[\s\S]*"code":"request-timeout"/,
    );
    expect(api.records.kept.size).toBe(0);
  });

  const MULTIPART = HEAD.replace("text/csv", "multipart/form-data; boundary=x");
  const PART = '--x\r\nContent-Disposition: form-data; name="document"; filename="a.csv"\r\n\r\n';
  it.each([
    ["a body of a stated length", `${HEAD}Content-Length: 100000\r\n\r\nHeat;C\n`, "1"],
    ["a body without end", `${HEAD}Transfer-Encoding: chunked\r\n\r\n`, "1\r\n1\r\n"],
    ["a part of a form", `${MULTIPART}Content-Length: 100000\r\n\r\n${PART}`, "1"],
    [
      "a JSON body",
      HEAD.replace("submissions", "keys")
        .replace("text/csv", "application/json")
        .concat("Content-Length: 100000\r\n\r\n{"),
      " ",
    ],
  ])("%s hears 408, loses its connection and leaves no file and no row", async (_, start, piece) => {
    expect(await trickle(start, piece)).toMatch(/^HTTP\/1\.1 408 [\s\S]*"code":"request-timeout"/);
    await until(() => api.uploads().length === 0);
    expect(api.documents()).toEqual([]);
    expect(api.records.kept.size).toBe(0);
  });

  it("is not taken for one that is only slow to be answered", async () => {
    api.deps.records.check = () => new Promise((resolve) => setTimeout(resolve, 700));
    expect((await fetch(`${impatient.url}/readyz`)).status).toBe(200);
  });
});

it("says that it is starting until it has something to serve", async () => {
  const starting = await startServer("127.0.0.1", 0);
  const response = await fetch(`${starting.url}/v1/submissions`);
  expect(response.status).toBe(503);
  expect(response.headers.get("retry-after")).toBe("2");
  expect(await response.json()).toMatchObject({ code: "starting" });
  await starting.stop(0);
});
