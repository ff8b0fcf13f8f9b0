import { createServer, type IncomingHttpHeaders, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";

export interface Received {
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

/** A webhook receiver on this machine that keeps what it gets, and answers as told. */
export async function startReceiver(answer: (response: ServerResponse, count: number) => void = accept) {
  const received: Received[] = [];
  const waiting: (() => void)[] = [];
  const server = createServer(async (request, response) => {
    let body = "";
    for await (const part of request) body += part;
    received.push({ headers: request.headers, body });
    answer(response, received.length);
    for (const wake of waiting.splice(0)) wake();
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/events`,
    received,
    async waitFor(count: number): Promise<readonly Received[]> {
      while (received.length < count) await new Promise<void>((resolve) => waiting.push(resolve));
      return received;
    },
    close: () =>
      new Promise<void>((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}

const accept = (response: ServerResponse) => void response.writeHead(204).end();
