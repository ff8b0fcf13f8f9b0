import type { ErrorRequestHandler, Request, Response } from "express";
import type { Logger } from "pino";
import { DocumentsErased, SubmissionErased } from "../../worker/store/records.js";
import { RequirementArchived } from "../../worker/store/requirements.js";
import { isSilence } from "../../worker/store/transaction.js";
import { PROBLEMS, Problem, problemBody } from "../problems.js";
import { submissionErased } from "../routes/submission-erased.js";

/** How long a sender that is still sending may go on before the connection is closed under it. */
const LINGER_MS = 2_000;

/** The one place where refusals and faults become answers: application/problem+json, whatever went wrong. */
export function answerProblem(logger: Logger): ErrorRequestHandler {
  return (error, request, response, _next) => {
    const problem = asProblem(error);
    if (problem.code === "store-unavailable") logger.warn({ err: error, requestId: request.id }, "the store is away");
    if (problem.code === "fault") logger.error({ err: error, requestId: request.id }, "a request ran into a fault");
    // Half an answer cannot be taken back; closing the connection is the only way left to say that it is not whole.
    if (response.headersSent) {
      response.destroy();
      return;
    }
    const body = JSON.stringify(problemBody(problem, String(request.id)));
    response.status(PROBLEMS[problem.code].status);
    response.removeHeader("ETag");
    response.set({ ...problem.headers, "Content-Type": "application/problem+json", "Cache-Control": "no-store" });
    sendRefusal(request, response, body);
  };
}

/** The body of a refusal, whole, also to a sender that has not come to its end. Status, type and other headers are set by then. */
export function sendRefusal(request: Request, response: Response, body: string): void {
  response.set("Content-Length", String(Buffer.byteLength(body)));
  if (request.complete || request.method === "HEAD") response.end(request.method === "HEAD" ? undefined : body);
  else answerWhileSending(request, response, body);
}

/**
 * The sender is still writing. Closing now would make its system throw the answer away unread (TCP reset), so the answer
 * goes out whole first, and what still comes in is dropped for a moment.
 */
function answerWhileSending(request: Request, response: Response, body: string): void {
  response.set("Connection", "close");
  response.write(body);
  const end = () => {
    clearTimeout(timer);
    response.end();
  };
  const timer = setTimeout(end, LINGER_MS);
  request.once("end", end).once("close", end).resume();
}

export function asProblem(error: unknown): Problem {
  if (error instanceof Problem) return error;
  if (error instanceof SubmissionErased) return submissionErased(error.erasure);
  if (error instanceof DocumentsErased) return new Problem("document-erased");
  if (error instanceof RequirementArchived) return new Problem("requirement-archived");
  if (error instanceof URIError) return new Problem("path-encoding");
  const type = typeof error === "object" && error !== null && "type" in error ? error.type : undefined;
  if (type === "entity.parse.failed") return new Problem("json-broken", { detail: (error as Error).message });
  if (type === "entity.too.large") return new Problem("request-too-large");
  if (type === "request.aborted") return new Problem("request-aborted");
  if (type === "charset.unsupported" || type === "encoding.unsupported") return new Problem("body-encoding");
  if (isOutage(error)) return new Problem("store-unavailable", { headers: { "Retry-After": "5" } });
  return new Problem("fault");
}

/** The database, the disk or the bucket is away, silent or full, which is no mistake of ours and passes: network, disk, and PostgreSQL's
 * classes 08 (connection), 53 (resources) and 57P (shutdown). */
function isOutage(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  const code = String((error as NodeJS.ErrnoException).code ?? "");
  if (/^(ECONNREFUSED|ECONNRESET|EPIPE|ETIMEDOUT|ENOSPC|EDQUOT|08...|53...|57P..)$/.test(code)) return true;
  if (isBucketAway(error)) return true;
  return isSilence(error) || /^(Connection terminated|timeout exceeded when trying to connect)/.test(error.message);
}

/** In the words of the bucket's client: nothing came in time, the bucket's side has a fault or is not there any more. */
function isBucketAway(error: Error): boolean {
  const { httpStatusCode = 0 } =
    (error as { readonly $metadata?: { readonly httpStatusCode?: number } }).$metadata ?? {};
  return httpStatusCode >= 500 || error.name === "TimeoutError" || error.name === "NoSuchBucket";
}
