import type { z } from "zod";
import type { acceptedSchema, SubmissionBody } from "../responses/submission-body.js";
import type { Sample } from "./samples.js";
import type { WebhookReceiver } from "./webhook-receiver.js";

export interface Service {
  readonly url: string;
  readonly key: string;
}

export interface Outcome {
  readonly submission: SubmissionBody;
  /** From the first byte sent to the answer that carries the verdict. */
  readonly milliseconds: number;
  readonly html: string;
}

/** One sample through the whole service over HTTP, as an integrator would: hand in, wait, be told, fetch the report. */
export async function handIn(service: Service, sample: Sample, receiver: WebhookReceiver): Promise<Outcome> {
  const form = new FormData();
  for (const { name, bytes } of sample.documents) form.append("document", new Blob([bytes]), name);
  if (sample.requirement !== undefined) form.append("requirement", sample.requirement);
  form.append("callback", JSON.stringify({ url: receiver.url }));

  const started = performance.now();
  const answer = await call(service, "/v1/submissions", { method: "POST", headers: { Prefer: "wait=25" }, body: form });
  const milliseconds = performance.now() - started;
  const submission = (await answer.json()) as z.infer<typeof acceptedSchema>;
  if (submission.state === "failed") throw new Error(`${sample.name}: ${submission.failure?.message}`);
  if (submission.state !== "done") throw new Error(`${sample.name} was not done within 25 seconds`);

  const event = await receiver.verified(submission.id, submission.callback?.secret ?? "");
  if (event.type !== "submission.done") throw new Error(`the webhook says ${event.type}`);

  const report = await call(service, submission.links.report, { headers: { Accept: "text/html" } });
  return { submission, milliseconds, html: await report.text() };
}

async function call(service: Service, path: string, request: RequestInit): Promise<Response> {
  const headers = { ...request.headers, Authorization: `Bearer ${service.key}` };
  const response = await fetch(`${service.url}${path}`, { ...request, headers });
  if (!response.ok)
    throw new Error(`${request.method ?? "GET"} ${path} gave ${response.status}: ${await response.text()}`);
  return response;
}
