import express, { type ErrorRequestHandler, type RequestHandler, Router } from "express";
import { correctionsSchema } from "../../core/certificate/corrections.js";
import type { Report } from "../../core/report/report.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { asProblem, sendRefusal } from "../middleware/answer-problem.js";
import { authenticate, holderOf, needs, sessionCookie } from "../middleware/authenticate.js";
import { limitBacklog } from "../middleware/limit-backlog.js";
import { confirmedReadings } from "../pages/doubtful-readings.js";
import { handInPage } from "../pages/hand-in-page.js";
import { PAGE_SCRIPT } from "../pages/page-script.js";
import { PAGE_STYLE } from "../pages/page-style.js";
import { problemPage } from "../pages/problem-page.js";
import { PAGE_HEADERS, sendPage } from "../pages/send-page.js";
import { signInPage } from "../pages/sign-in-page.js";
import { submissionPage } from "../pages/submission-page.js";
import { PROBLEMS, problemBody } from "../problems.js";
import { newDecisionSchema } from "../requests/new-decision.js";
import { checkJson } from "../requests/parse-json.js";
import { receiveSubmission } from "../uploads/receive-submission.js";
import { acceptSubmission } from "./accept-submission.js";
import { correctSubmission } from "./correct-submission.js";
import { decideHeat } from "./decide-heat.js";
import { findSubmission } from "./submissions.js";

const RECENT = 20;

/** The pages for receiving inspection. They work without a script, and use the same functions as the API. */
export function pageRoutes(deps: AppDeps, withinRate: RequestHandler): Router {
  const router = Router({ caseSensitive: true, strict: true });
  const cookie = sessionCookie(deps.publicUrl);
  const signedIn = [authenticate(deps.keys, cookie), withinRate];
  const signInInstead = signInUnless(cookie);
  const form = express.urlencoded({ extended: false, limit: "64kb" });

  router.get("/page.css", (_request, response) => void response.set(ASSET).type("text/css").send(PAGE_STYLE));
  router.get("/page.js", (_request, response) => void response.set(ASSET).type("text/javascript").send(PAGE_SCRIPT));

  router
    .route("/")
    .get(signInInstead, ...signedIn, needs("read"), async (_request, response) => {
      const { client, scopes } = holderOf(response);
      const [requirements, page] = await Promise.all([
        deps.requirements.list(client),
        deps.records.listSubmissions({ owner: client }, RECENT),
      ]);
      sendPage(
        response,
        handInPage({ requirements, recent: page.items, maySubmit: scopes.includes("submit"), limits: deps.limits }),
      );
    })
    .all(allowMethods("GET"));

  router
    .route("/submissions")
    .post(...signedIn, needs("submit"), limitBacklog(deps.records, deps.backlog), async (request, response) => {
      const { client, name } = holderOf(response);
      const { record } = await receiveSubmission(request, deps.uploadFolder, deps.limits, (received) =>
        acceptSubmission(deps, client, received, { by: name, key: undefined, isAgain: false }),
      );
      response.redirect(303, `/submissions/${record.id}`);
    })
    .all(allowMethods("POST"));

  router
    .route("/submissions/:id")
    .get(signInInstead, ...signedIn, needs("read"), async (request, response) => {
      const record = await findSubmission(deps.records, request.params.id, response);
      const stored = await deps.records.getReport(record.id, holderOf(response).client);
      const [decisions, pictures] = await Promise.all([
        deps.decisions.list(record.id, holderOf(response).client),
        deps.records.getPictures(record.id, holderOf(response).client),
      ]);
      const report = stored && (JSON.parse(stored.json) as Report);
      const mayDecide = holderOf(response).scopes.includes("decide");
      sendPage(response, submissionPage({ record, report, pictures, decisions, mayDecide }));
    })
    .all(allowMethods("GET"));

  router
    .route("/submissions/:id/decisions")
    .post(...signedIn, needs("decide"), form, async (request, response) => {
      const asked = checkJson(request.body, newDecisionSchema, "The decision", "decision-invalid");
      await decideHeat(deps, request.params.id, asked, response);
      response.redirect(303, `/submissions/${request.params.id}`);
    })
    .all(allowMethods("POST"));

  router
    .route("/submissions/:id/corrections")
    .post(...signedIn, needs("decide"), form, async (request, response) => {
      const record = await findSubmission(deps.records, request.params.id, response);
      const stored = await deps.records.getReport(record.id, holderOf(response).client);
      const report = stored && (JSON.parse(stored.json) as Report);
      const asked = report && confirmedReadings(report, request.body ?? {}, new Date());
      const corrections = checkJson(asked, correctionsSchema, "The confirmation", "corrections-invalid");
      const corrected = await correctSubmission(deps, record, corrections, holderOf(response).name);
      response.redirect(303, `/submissions/${corrected.id}`);
    })
    .all(allowMethods("POST"));

  router.use(answerProblemPage(cookie, deps.publicUrl.startsWith("https:")));
  return router;
}

const ASSET = { "Cache-Control": "no-cache" };

/** A browser without a key is shown where to give one. */
function signInUnless(cookie: string): RequestHandler<{ id: string }> {
  return (request, response, next) => {
    const hasKey = request.get("Authorization") || request.get("Cookie")?.includes(`${cookie}=`);
    if (hasKey) next();
    else sendPage(response.status(401), signInPage());
  };
}

/** People see refusals as a page. What is not ours to refuse goes on to the answer for programs. */
function answerProblemPage(cookie: string, secure: boolean): ErrorRequestHandler {
  return (error, request, response, next) => {
    const problem = asProblem(error);
    const wantsPage = request.accepts(["application/problem+json", "text/html"]) === "text/html";
    if (!wantsPage || problem.code === "fault" || response.headersSent) return next(error);
    response.status(PROBLEMS[problem.code].status).set(problem.headers);
    if (problem.code === "key-unknown") response.clearCookie(cookie, { path: "/", secure });
    const page = problem.code === "key-unknown" ? signInPage(problem.message) : problemPage(problemBody(problem));
    sendRefusal(request, response.set(PAGE_HEADERS), page);
  };
}
