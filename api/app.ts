import express, { type Express } from "express";
import type { AppDeps } from "./deps.js";
import { answerProblem } from "./middleware/answer-problem.js";
import { authenticate, sessionCookie } from "./middleware/authenticate.js";
import { limitRate } from "./middleware/limit-rate.js";
import { measureRequests } from "./middleware/measure-requests.js";
import { refuseNul } from "./middleware/refuse-nul.js";
import { requestLog } from "./middleware/request-log.js";
import { securityHeaders } from "./middleware/security-headers.js";
import { traceRequests } from "./middleware/trace-requests.js";
import { Problem } from "./problems.js";
import { comparisonRoutes } from "./routes/comparisons.js";
import { correctionRoutes } from "./routes/corrections.js";
import { decisionRoutes } from "./routes/decisions.js";
import { descriptionRoutes } from "./routes/description.js";
import { documentRoutes } from "./routes/documents.js";
import { endpointRoutes } from "./routes/endpoints.js";
import { erasureRoutes } from "./routes/erasures.js";
import { eventRoutes } from "./routes/events.js";
import { gradeRoutes } from "./routes/grades.js";
import { healthRoutes } from "./routes/health.js";
import { heatHistoryRoutes } from "./routes/heat-history.js";
import { heatRoutes } from "./routes/heats.js";
import { keyRoutes } from "./routes/keys.js";
import { pageRoutes } from "./routes/pages.js";
import { reportRoutes } from "./routes/reports.js";
import { requirementRoutes } from "./routes/requirements.js";
import { sessionRoutes } from "./routes/session.js";
import { publicKeyRoutes, signingKeyRoutes } from "./routes/signing-keys.js";
import { submissionRoutes } from "./routes/submissions.js";
import { trialRoutes } from "./routes/trials.js";

const METRICS_ELSEWHERE = "Metrics have a port of their own, which HEATGATE_METRICS_PORT names.";

/** The whole HTTP front as one Express app; it listens nowhere yet. */
export function createApp(deps: AppDeps): Express {
  const app = express();
  app.disable("x-powered-by");
  app.set("case sensitive routing", true);
  app.set("strict routing", true);
  app.set("query parser", "simple");

  app.use(
    traceRequests,
    requestLog(deps.logger),
    measureRequests(deps.registry),
    securityHeaders(deps.publicUrl),
    refuseNul,
  );
  app.use(healthRoutes(deps), descriptionRoutes(deps), publicKeyRoutes(deps), sessionRoutes(deps));
  // One for pages and programs: a key has what it has, whichever way it comes in.
  const withinRate = limitRate(deps.rates);
  app.use(pageRoutes(deps, withinRate));
  app.use("/v1", authenticate(deps.keys, sessionCookie(deps.publicUrl)), withinRate);
  app.use(
    "/v1",
    keyRoutes(deps),
    signingKeyRoutes(deps),
    submissionRoutes(deps),
    reportRoutes(deps),
    documentRoutes(deps),
    erasureRoutes(deps),
    eventRoutes(deps),
    endpointRoutes(deps),
    requirementRoutes(deps),
    decisionRoutes(deps),
    correctionRoutes(deps),
    trialRoutes(deps),
    heatRoutes(deps),
    heatHistoryRoutes(deps),
    comparisonRoutes(deps),
    gradeRoutes(deps),
  );
  app.use(({ path }) => {
    throw new Problem("path-unknown", path === "/metrics" ? { detail: METRICS_ELSEWHERE } : {});
  });
  app.use(answerProblem(deps.logger));
  return app;
}
