import { type Request, type Response, Router } from "express";
import type { Records, SubmissionRecord } from "../../worker/store/records.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { Problem } from "../problems.js";
import { checkCallbackUrl } from "../requests/check-callback-url.js";
import { preferWaitSeconds } from "../requests/prefer-wait.js";
import { isFinal, submissionAnswer } from "../responses/submission-answer.js";
import { receiveSubmission } from "../uploads/receive-submission.js";
import type { Received } from "../uploads/received.js";

export function submissionRoutes(deps: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/submissions")
    .post(async (request, response) => {
      const { accepted, secret } = await receiveSubmission(request, deps.uploadFolder, deps.limits, (received) =>
        keepSubmission(deps, received),
      );
      const { record, waited } = await waitIfAsked(deps.records, request, accepted);
      if (!isFinal(record)) response.status(202).set("Retry-After", "1");
      await sendSubmission(deps, response, record, { waited, secret, withReport: true });
    })
    .all(allowMethods("POST"));

  router
    .route("/submissions/:id")
    .get(async (request, response) => {
      const found = await findSubmission(deps.records, request.params.id);
      const { record, waited } = await waitIfAsked(deps.records, request, found);
      if (!isFinal(record)) response.set("Retry-After", "1");
      await sendSubmission(deps, response, record, { waited, secret: undefined, withReport: false });
    })
    .all(allowMethods("GET"));

  return router;
}

/** Bytes first, then the row: whatever the row names is already durable. */
async function keepSubmission(deps: AppDeps, received: Received) {
  const { callback, requirement, tags } = received;
  if (callback) checkCallbackUrl(callback.url, deps.callbackRules);
  for (const document of received.documents) await deps.documents.put(document.sha256, document.path);
  const accepted = await deps.records.createSubmission({
    requirement,
    documents: received.documents.map(({ path: _, ...document }) => document),
    tags,
    ...(callback ? { callback: { url: callback.url, secret: callback.secret } } : {}),
  });
  return { accepted, secret: callback?.isSecretNew ? callback.secret : undefined };
}

export async function findSubmission(records: Records, id: string): Promise<SubmissionRecord> {
  const record = await records.getSubmission(id);
  if (!record) throw new Problem("submission-unknown");
  return record;
}

async function waitIfAsked(records: Records, request: Request, record: SubmissionRecord) {
  const seconds = preferWaitSeconds(request.get("Prefer"));
  if (seconds === undefined) return { record, waited: undefined };
  const waited = isFinal(record) ? record : await records.waitUntilFinal(record.id, seconds * 1_000);
  return { record: waited ?? record, waited: seconds };
}

interface SendOptions {
  readonly waited: number | undefined;
  readonly secret: string | undefined;
  readonly withReport: boolean;
}

async function sendSubmission(deps: AppDeps, response: Response, record: SubmissionRecord, options: SendOptions) {
  if (options.waited !== undefined) response.set("Preference-Applied", `wait=${options.waited}`);
  const stored = record.state === "done" ? await deps.records.getReport(record.id) : undefined;
  response
    .location(`/v1/submissions/${record.id}`)
    .set("Cache-Control", "private, no-cache")
    .type("application/json")
    .send(submissionAnswer(record, stored?.json, options));
}
