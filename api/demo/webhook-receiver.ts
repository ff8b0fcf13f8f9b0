import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { Webhook } from "standardwebhooks";

export interface WebhookReceiver {
  readonly url: string;
  /** The event about this submission, once it has come and its signature fits the secret. Throws when it does not fit. */
  verified(submission: string, secret: string): Promise<{ readonly type: string }>;
  close(): void;
}

interface Delivery {
  readonly body: string;
  readonly headers: Record<string, string>;
}

/** What an integrator writes: take the raw body, verify, answer 204. Here it also lets the demo wait for an event. */
export async function startWebhookReceiver(): Promise<WebhookReceiver> {
  const arrived = new Map<string, Delivery>();
  const waiting = new Map<string, (delivery: Delivery) => void>();

  const server = createServer(async (request, response) => {
    let body = "";
    for await (const chunk of request) body += chunk;
    const delivery = { body, headers: request.headers as Record<string, string> };
    const { submission } = (JSON.parse(body) as { data: { submission: string } }).data;
    arrived.set(submission, delivery);
    waiting.get(submission)?.(delivery);
    response.writeHead(204).end();
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));

  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/heatgate`,
    async verified(submission, secret) {
      const here = arrived.get(submission);
      const { body, headers } = here ?? (await new Promise<Delivery>((resolve) => waiting.set(submission, resolve)));
      return new Webhook(secret).verify(body, headers) as { readonly type: string };
    },
    close() {
      server.closeAllConnections();
      server.close();
    },
  };
}
