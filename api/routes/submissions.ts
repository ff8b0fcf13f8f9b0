import { type Request, type Response, Router } from "express";
import type { Records, SubmissionRecord } from "../../worker/store/records.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { limitBacklog } from "../middleware/limit-backlog.js";
import { Problem } from "../problems.js";
import { idempotencyKey } from "../requests/idempotency.js";
import { listFilter, listQuerySchema } from "../requests/list-query.js";
import { nextLink, readPage } from "../requests/page.js";
import { preferWaitSeconds } from "../requests/prefer-wait.js";
import { readQuery } from "../requests/query.js";
import { RunningKeys } from "../requests/running-keys.js";
import { isFinal, submissionAnswer } from "../responses/submission-answer.js";
import { submissionBody } from "../responses/submission-body.js";
import { receiveSubmission } from "../uploads/receive-submission.js";
import { acceptSubmission } from "./accept-submission.js";
import { submissionErased } from "./submission-erased.js";

export function submissionRoutes(deps: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });
  const running = new RunningKeys();

  router
    .route("/submissions")
    .post(needs("submit"), limitBacklog(deps.records, deps.backlog), async (request, response) => {
      const { client: owner, name: by } = holderOf(response);
      const key = idempotencyKey(request.get("Idempotency-Key"));
      const accepted = await running.during(owner, key, () =>
        receiveSubmission(request, deps.uploadFolder, deps.limits, (received) =>
          acceptSubmission(deps, owner, received, { by, key, isAgain: request.query.again === "true" }),
        ),
      );
      if (accepted.earlier === "same key") response.set("Idempotency-Replayed", "true");
      if (accepted.earlier === "same content") response.set("Heatgate-Duplicate", "true");
      const { record, waited } = await waitIfAsked(deps.records, request, response, accepted.record);
      if (!isFinal(record)) response.status(202).set("Retry-After", "1");
      await sendSubmission(deps, response, record, { waited, secret: accepted.secret, withReport: true });
    })
    .get(needs("read"), async (request, response) => {
      const query = readQuery(request, listQuerySchema);
      const page = await readPage(() =>
        deps.records.listSubmissions(listFilter(query, holderOf(response).client), query.limit, query.cursor),
      );
      response.set("Cache-Control", "private, no-cache").json({
        items: page.items.map((record) => submissionBody(record)),
        ...nextLink(request.originalUrl, page.next),
      });
    })
    .all(allowMethods("GET", "POST"));

  router
    .route("/submissions/:id")
    .get(needs("read"), async (request, response) => {
      const found = await findSubmission(deps.records, request.params.id, response);
      const { record, waited } = await waitIfAsked(deps.records, request, response, found);
      if (!isFinal(record)) response.set("Retry-After", "1");
      await sendSubmission(deps, response, record, { waited, secret: undefined, withReport: false });
    })
    .all(allowMethods("GET"));

  return router;
}

/** Another client's submission is as unknown as one that never was; of an erased one it is said that it was. */
export async function findSubmission(records: Records, id: string, response: Response): Promise<SubmissionRecord> {
  const { client } = holderOf(response);
  const record = await records.getSubmission(id, client);
  if (record) return record;
  const erasure = await records.getErasure(id, client);
  throw erasure ? submissionErased(erasure) : new Problem("submission-unknown");
}

async function waitIfAsked(records: Records, request: Request, response: Response, record: SubmissionRecord) {
  const seconds = preferWaitSeconds(request.get("Prefer"));
  if (seconds === undefined) return { record, waited: undefined };
  const waited = isFinal(record) ? record : await records.waitUntilFinal(record.id, seconds * 1_000);
  // Gone while the sender waited: it was erased.
  return { record: waited ?? (await findSubmission(records, record.id, response)), waited: seconds };
}

interface SendOptions {
  readonly waited: number | undefined;
  readonly secret: string | undefined;
  readonly withReport: boolean;
}

async function sendSubmission(deps: AppDeps, response: Response, record: SubmissionRecord, options: SendOptions) {
  if (options.waited !== undefined) response.set("Preference-Applied", `wait=${options.waited}`);
  const stored =
    record.state === "done" ? await deps.records.getReport(record.id, holderOf(response).client) : undefined;
  response
    .location(`/v1/submissions/${record.id}`)
    .set("Cache-Control", "private, no-cache")
    .type("application/json")
    .send(submissionAnswer(record, stored?.json, options));
}
