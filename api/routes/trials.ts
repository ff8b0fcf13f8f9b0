import { type Request, type Response, Router } from "express";
import { renderGradesMetHtml } from "../../core/report/grades-met-html.js";
import type { Report } from "../../core/report/report.js";
import { type Requirement, requirementSchema } from "../../core/requirement/requirement.js";
import type { TrialRecord } from "../../worker/store/trials.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { jsonBody } from "../middleware/json-body.js";
import { Problem } from "../problems.js";
import { jsonOrPage } from "../requests/choose-form.js";
import { dryRunOutlineSchema } from "../requests/new-dry-run.js";
import { checkJson } from "../requests/parse-json.js";
import { preferWaitSeconds } from "../requests/prefer-wait.js";
import { requirementOf } from "../requests/requirement-reference.js";
import { dryRunBody, type GradesMet } from "../responses/trial-body.js";
import { REPORT_PAGE_POLICY, whyNoReport } from "./reports.js";
import { findSubmission } from "./submissions.js";

/** An answer takes a worker well under a second, so that a sender who says nothing is taken to be ready to wait. */
const WAIT_SECONDS = 10;

/** Questions about what was judged already: what another requirement would change, and which grades the heats meet. */
export function trialRoutes(deps: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });
  const { trials } = deps;

  router
    .route("/submissions/:id/dry-runs")
    .post(needs("read"), jsonBody("256kb"), async (request, response) => {
      const { id, report } = await judgedSubmission(deps, request.params.id, response);
      const { heat, requirement: asked } = checkJson(
        request.body,
        dryRunOutlineSchema,
        "The dry run",
        "dry-run-invalid",
      );
      if (heat !== undefined && !report.heats.some((candidate) => candidate.heat === heat)) {
        throw new Problem("heat-unknown", { detail: `The report has no heat ${heat}.` });
      }
      const requirement = await wantedRequirement(deps, asked, response);
      const trial = await trials.create({ kind: "dry-run", submission: id, requirement, ...(heat ? { heat } : {}) });
      sendDryRun(response, await waited(deps, trial, request));
    })
    .all(allowMethods("POST"));

  router
    .route("/submissions/:id/dry-runs/:dryRun")
    .get(needs("read"), async (request, response) => {
      const { id } = await findSubmission(deps.records, request.params.id, response);
      const trial = await trials.get(request.params.dryRun, id, holderOf(response).client);
      if (trial?.kind !== "dry-run") throw new Problem("dry-run-unknown");
      sendDryRun(response, await waited(deps, trial, request));
    })
    .all(allowMethods("GET"));

  router
    .route("/submissions/:id/grades")
    .get(needs("read"), async (request, response) => {
      const form = jsonOrPage(request);
      const { id } = await judgedSubmission(deps, request.params.id, response);
      const trial = await waited(deps, await trials.create({ kind: "grades", submission: id }), request);
      if (trial.failure) throw new Problem("trial-failed", { detail: trial.failure.message });
      if (trial.state !== "done") throw new Problem("trial-not-ready", { headers: { "Retry-After": "1" } });
      response.set({ Vary: "Accept", "Cache-Control": "private, no-cache" });
      if (form === "json") response.json(trial.result);
      else {
        const { items } = trial.result as GradesMet;
        response.set("Content-Security-Policy", REPORT_PAGE_POLICY).type("text/html").send(renderGradesMetHtml(items));
      }
    })
    .all(allowMethods("GET"));

  return router;
}

async function judgedSubmission({ records }: AppDeps, id: string, response: Response) {
  const record = await findSubmission(records, id, response);
  const stored = await records.getReport(record.id, holderOf(response).client);
  if (!stored) throw whyNoReport(record);
  return { id: record.id, report: JSON.parse(stored.json) as Report };
}

async function wantedRequirement(
  { requirements }: AppDeps,
  asked: object | string,
  response: Response,
): Promise<Requirement> {
  if (typeof asked !== "string") return checkJson(asked, requirementSchema, "The requirement", "requirement-invalid");
  const found = await requirementOf(asked, holderOf(response).client, requirements);
  if (!found) throw new Problem("requirement-unknown");
  return found;
}

function waited({ trials }: AppDeps, trial: TrialRecord, request: Request): Promise<TrialRecord> {
  const seconds = preferWaitSeconds(request.get("Prefer")) ?? WAIT_SECONDS;
  return trials.waitUntilFinal(trial, seconds * 1_000);
}

function sendDryRun(response: Response, trial: TrialRecord): void {
  if (trial.failure) throw new Problem("trial-failed", { detail: trial.failure.message });
  const body = dryRunBody(trial);
  response.location(body.links.self).set("Cache-Control", "private, no-cache");
  if (trial.state === "accepted") response.status(202).set("Retry-After", "1");
  response.json(body);
}
