import { createServer } from "node:http";
import type { AddressInfo } from "node:net";

/** One span, as OTLP's JSON says it. */
export interface CollectedSpan {
  readonly traceId: string;
  readonly spanId: string;
  readonly parentSpanId?: string;
  readonly name: string;
  /** service.name of the process that it is from. */
  readonly service: string;
  readonly attributes: Readonly<Record<string, unknown>>;
}

interface Attribute {
  readonly key: string;
  readonly value: Readonly<Record<string, unknown>>;
}

/** Takes traces by OTLP over HTTP, as a collector does, and keeps them. */
export async function startCollector() {
  const spans: CollectedSpan[] = [];
  const server = createServer(async (request, response) => {
    let body = "";
    for await (const part of request) body += part;
    for (const { resource, scopeSpans } of JSON.parse(body).resourceSpans) {
      const service = String(named(resource.attributes)["service.name"]);
      for (const scope of scopeSpans)
        for (const span of scope.spans) spans.push({ ...span, service, attributes: named(span.attributes) });
    }
    response.writeHead(200, { "content-type": "application/json" }).end("{}");
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/v1/traces`,
    spans,
    close: () =>
      new Promise<void>((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}

function named(attributes: readonly Attribute[]): Record<string, unknown> {
  return Object.fromEntries(attributes.map(({ key, value }) => [key, Object.values(value)[0]]));
}
