import { Router } from "express";
import { z } from "zod";
import { heatHistory } from "../../core/report/history/heat-history.js";
import { historyEntry } from "../../core/report/history/history-entries.js";
import { renderHistoryHtml } from "../../core/report/history/history-html.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { jsonOrPage } from "../requests/choose-form.js";
import { listQuerySchema } from "../requests/list-query.js";
import { readQuery } from "../requests/query.js";
import { REPORT_PAGE_POLICY } from "./reports.js";

/** What a chart can show, and a bound for what one request may load. */
const MOST_HEATS = 500;

export const historyQuerySchema = z.strictObject({
  issuer: z.string().max(200).optional().meta({ description: "Part of the name of whoever issued the documents" }),
  mill: z.string().trim().min(1).max(200).optional().meta({
    description: "Whose the documents are that do not name their issuer: without it their heats have no control limits",
  }),
  base: z.coerce
    .number()
    .int()
    .min(8)
    .max(MOST_HEATS)
    .optional()
    .meta({ description: "So many heats from the first set the limits, so that a drift does not widen them" }),
  createdFrom: listQuerySchema.shape.createdFrom,
  createdBefore: listQuerySchema.shape.createdBefore,
  limit: z.coerce.number().int().min(1).max(MOST_HEATS).default(200).meta({ description: "The newest so many heats" }),
});

/** Properties over time, heat by heat, from stored reports. */
export function heatHistoryRoutes({ listHeatReports }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/heat-history")
    .get(needs("read"), async (request, response) => {
      const form = jsonOrPage(request);
      const { issuer, mill, base, createdFrom, createdBefore, limit } = readQuery(request, historyQuerySchema);
      const filter = {
        owner: holderOf(response).client,
        ...(issuer !== undefined && { issuer }),
        ...(createdFrom !== undefined && { createdFrom: new Date(createdFrom) }),
        ...(createdBefore !== undefined && { createdBefore: new Date(createdBefore) }),
      };
      const heats = await listHeatReports(filter, limit);
      const entries = heats.flatMap(
        ({ createdAt, ...heat }) => historyEntry({ ...heat, handedIn: createdAt.toISOString() }, mill) ?? [],
      );
      const history = heatHistory(entries, base === undefined ? {} : { baseHeats: base });
      response.set({ Vary: "Accept", "Cache-Control": "private, no-cache" });
      if (form === "json") response.json(history);
      else
        response.set("Content-Security-Policy", REPORT_PAGE_POLICY).type("text/html").send(renderHistoryHtml(history));
    })
    .all(allowMethods("GET"));

  return router;
}
