import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import type { Registry } from "prom-client";
import { answersProbe } from "./store/answers-probe.js";

export interface HealthChecks {
  /** Each by its name; throws, with the reason, when the process could not do its work now. */
  readonly ready: Readonly<Record<string, () => Promise<void>>>;
  started(): boolean;
  readonly registry: Registry;
}

/** A port of its own for /livez, /readyz, /startupz and /metrics. It speaks to probes and to nobody else. */
export async function startHealthServer(checks: HealthChecks, host: string, port: number) {
  const server = createServer(async (request, response) => {
    const { status, type, body } = await answer(checks, request.url?.split("?")[0] ?? "");
    response.writeHead(status, { "content-type": type, "cache-control": "no-store" }).end(body);
  });
  await listen(server, host, port);
  return {
    port: (server.address() as AddressInfo).port,
    close: () =>
      new Promise<void>((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

interface Answer {
  readonly status: number;
  readonly type: string;
  readonly body: string;
}

async function answer(checks: HealthChecks, path: string): Promise<Answer> {
  switch (path) {
    // Alive means that this process still answers. What it depends on is no reason to restart it.
    case "/livez":
      return health(true);
    case "/startupz":
      return health(checks.started());
    case "/readyz":
      return readiness(checks);
    case "/metrics":
      return { status: 200, type: checks.registry.contentType, body: await checks.registry.metrics() };
    default:
      return { status: 404, type: "text/plain", body: "There is /livez, /readyz, /startupz and /metrics.\n" };
  }
}

async function readiness({ ready, started }: HealthChecks): Promise<Answer> {
  const faults = await Promise.all(
    Object.entries(ready).map(([name, check]) =>
      answersProbe(check()).then(
        () => [],
        (error: Error) => [`${name}: ${error.message}`],
      ),
    ),
  );
  const reason = faults.flat().join("; ");
  return reason === "" ? health(started()) : health(false, reason);
}

function health(pass: boolean, reason?: string): Answer {
  const body = JSON.stringify({ status: pass ? "pass" : "fail", ...(reason !== undefined && { reason }) });
  return { status: pass ? 200 : 503, type: "application/json", body };
}

function listen(server: Server, host: string, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, host, resolve);
  });
}
