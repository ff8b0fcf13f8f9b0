import { type Response, Router } from "express";
import { normaliseHeatNumber } from "../../core/certificate/heat-number.js";
import { renderComparisonHtml } from "../../core/report/compare/compare-html.js";
import { compareMaterials } from "../../core/report/compare/compare-materials.js";
import { comparableStoredHeats, type StoredHeats } from "../../core/report/compare/stored-heats.js";
import type { Report, ReportHeat } from "../../core/report/report.js";
import { parseMeasure } from "../../core/requirement/parse-measure.js";
import type { Records } from "../../worker/store/records.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { jsonBody } from "../middleware/json-body.js";
import { Problem } from "../problems.js";
import { jsonOrPage } from "../requests/choose-form.js";
import { type NewComparison, newComparisonSchema } from "../requests/new-comparison.js";
import { checkJson } from "../requests/parse-json.js";
import { requirementOf } from "../requests/requirement-reference.js";
import { REPORT_PAGE_POLICY, whyNoReport } from "./reports.js";
import { findSubmission } from "./submissions.js";

/** Heats of stored reports side by side at the service temperature. Nothing is read or judged anew. */
export function comparisonRoutes({ records, requirements }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/comparisons")
    .post(needs("read"), jsonBody("256kb"), async (request, response) => {
      const form = jsonOrPage(request);
      const asked = checkJson(request.body, newComparisonSchema, "The comparison", "comparison-invalid");
      const requirement =
        typeof asked.requirement === "object"
          ? asked.requirement
          : await requirementOf(asked.requirement, holderOf(response).client, requirements);
      const stored = await storedHeats(records, asked.of, response);
      const service = parseMeasure(asked.serviceTemperature, "temperature")!;
      const comparison = compareMaterials(comparableStoredHeats(stored), service, requirement);
      response.set({ Vary: "Accept", "Cache-Control": "private, no-store" });
      if (form === "json") response.json(comparison);
      else
        response
          .set("Content-Security-Policy", REPORT_PAGE_POLICY)
          .type("text/html")
          .send(renderComparisonHtml(comparison));
    })
    .all(allowMethods("POST"));

  return router;
}

/** One after the other, so that one request does not hold every database connection. */
async function storedHeats(records: Records, of: NewComparison["of"], response: Response): Promise<StoredHeats[]> {
  const stored: StoredHeats[] = [];
  for (const { submission, heats } of of) {
    const record = await findSubmission(records, submission, response);
    const kept = await records.getReport(record.id, holderOf(response).client);
    if (!kept) throw whyNoReport(record);
    const report = JSON.parse(kept.json) as Report;
    stored.push({ report, heats: heats ? heats.map((name) => heatNamed(report, name, submission)) : report.heats });
  }
  return stored;
}

function heatNamed({ heats }: Report, name: string, submission: string): ReportHeat {
  const found = heats.find(({ heat }) => normaliseHeatNumber(heat) === normaliseHeatNumber(name));
  if (!found) throw new Problem("heat-unknown", { detail: `The report of ${submission} has no heat ${name}.` });
  return found;
}
