import { createServer, type RequestListener, type Server } from "node:http";
import type { Socket } from "node:net";
import { PROBLEMS, Problem, type ProblemCode, problemBody } from "./problems.js";

/** A listening server and the polite way to end it. */
export interface RunningServer {
  readonly url: string;
  /** Until this is called every request hears that the service is still starting. */
  serve(app: RequestListener): void;
  /** Takes no new connection, lets running requests finish for a while, then closes what is left. */
  stop(graceMs: number): Promise<void>;
}

/** How long a sender may take; what is not whole by then hears 408 and loses its connection. */
export interface SlowLimits {
  readonly headersMs: number;
  readonly requestMs: number;
  /** Connections are looked at so often: a limit may be exceeded by as much. */
  readonly lookMs: number;
  /** A sender that hears its refusal and goes on is cut off after so long. */
  readonly lingerMs: number;
}

const SLOW_LIMITS: SlowLimits = {
  headersMs: 15_000,
  /** Long enough for 100 MB over a slow site link, short enough that a trickle cannot hold a place for ever. */
  requestMs: 300_000,
  lookMs: 5_000,
  lingerMs: 2_000,
};
const KEEP_ALIVE_MS = 65_000;

/** Listens at once, so that the address is known and taken before anything slow is started. */
export async function startServer(host: string, port: number, slow: SlowLimits = SLOW_LIMITS): Promise<RunningServer> {
  let app = answerStarting;
  const server = createServer(
    {
      headersTimeout: slow.headersMs,
      requestTimeout: slow.requestMs,
      connectionsCheckingInterval: slow.lookMs,
      keepAliveTimeout: KEEP_ALIVE_MS,
    },
    (request, response) => app(request, response),
  );
  server.on("clientError", (error: NodeJS.ErrnoException, socket) => {
    answerBrokenRequest(error, socket as Socket, slow.lingerMs);
  });
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject).listen(port, host, () => resolve());
  });
  return {
    url: addressOf(server),
    serve(handler) {
      app = handler;
    },
    stop: (graceMs) => stop(server, graceMs),
  };
}

const answerStarting: RequestListener = (_request, response) => {
  response
    .writeHead(503, { "Content-Type": "application/problem+json", "Retry-After": "2" })
    .end(JSON.stringify(problemBody(new Problem("starting"))));
};

/** What Node's parser refuses never reaches Express, and still gets the same kind of answer. */
function answerBrokenRequest(error: NodeJS.ErrnoException, socket: Socket, lingerMs: number): void {
  if (!socket.writable || error.code === "ECONNRESET") {
    socket.destroy();
    return;
  }
  const code = codeOf(error);
  const body = JSON.stringify(problemBody(new Problem(code)));
  const head = [
    `HTTP/1.1 ${PROBLEMS[code].status} ${PROBLEMS[code].title}`,
    "Content-Type: application/problem+json",
    `Content-Length: ${Buffer.byteLength(body)}`,
    "Connection: close",
  ];
  socket.end(`${head.join("\r\n")}\r\n\r\n${body}`);
  // Our end alone closes nothing: the other side may keep its own open and go on for ever, and the request with its files would wait for it.
  setTimeout(() => socket.destroy(), lingerMs).unref();
}

function codeOf(error: NodeJS.ErrnoException): ProblemCode {
  if (error.code === "HPE_HEADER_OVERFLOW") return "headers-too-large";
  if (error.code === "ERR_HTTP_REQUEST_TIMEOUT") return "request-timeout";
  return "request-broken";
}

function addressOf(server: Server): string {
  const address = server.address();
  if (address === null || typeof address === "string") throw new Error("the server listens on no port");
  const host = address.family === "IPv6" ? `[${address.address}]` : address.address;
  return `http://${host}:${address.port}`;
}

function stop(server: Server, graceMs: number): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(() => server.closeAllConnections(), graceMs);
    server.close(() => {
      clearTimeout(timer);
      resolve();
    });
    server.closeIdleConnections();
  });
}
