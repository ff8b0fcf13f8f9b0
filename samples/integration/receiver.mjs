/**
 * A receiver for Heatgate's webhooks, to copy and change.
 *
 *   WEBHOOK_SECRET=whsec_… PORT=9090 node samples/integration/receiver.mjs
 *
 * It does what every receiver should: takes the body as bytes, checks the signature and the age before it looks inside, answers at once,
 * and acts once an event however often that is delivered. What it has done already a real one keeps in its database.
 */
import { createServer } from "node:http";
import { Webhook } from "standardwebhooks";

const LARGEST_BODY_BYTES = 1024 * 1024;

const webhook = openWebhook(process.env.WEBHOOK_SECRET);
const done = new Set();

const server = createServer(async (request, response) => {
  const answer = (status) => response.writeHead(status).end();
  if (request.method !== "POST") return answer(405);
  const chunks = [];
  let bytes = 0;
  for await (const chunk of request) {
    bytes += chunk.length;
    if (bytes > LARGEST_BODY_BYTES) return answer(413);
    chunks.push(chunk);
  }
  let event;
  try {
    // Refuses a wrong signature, a missing header and a time more than five minutes away.
    event = webhook.verify(Buffer.concat(chunks).toString("utf8"), request.headers);
  } catch {
    return answer(401);
  }
  answer(204);
  const id = request.headers["webhook-id"];
  if (done.has(id)) return undefined;
  done.add(id);
  act(event);
  return undefined;
});

/** The secret is told once, by the answer that made the endpoint or the callback. */
function openWebhook(secret = "") {
  try {
    return new Webhook(secret);
  } catch {
    console.error("Set WEBHOOK_SECRET to the secret of the endpoint or callback; it begins with whsec_.");
    return process.exit(2);
  }
}

/** Say, hold the heat's stock back until the report is read: GET /v1/submissions/{id}/report. */
function act({ type, data }) {
  console.log(`${type} ${JSON.stringify(data)}`);
}

server.listen(Number(process.env.PORT ?? 9090), "127.0.0.1", () => {
  console.log(`listening on ${server.address().port}`);
});
