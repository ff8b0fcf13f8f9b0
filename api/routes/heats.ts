import { Router } from "express";
import { z } from "zod";
import { OUTCOMES } from "../../core/verdict/finding.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { cursorParameter, limitParameter, listFilter, listQuerySchema } from "../requests/list-query.js";
import { nextLink, readPage } from "../requests/page.js";
import { readQuery } from "../requests/query.js";
import { heatBody } from "../responses/heat-body.js";

export const heatsQuerySchema = z.strictObject({
  heat: z.string().max(200).optional().meta({ description: "Heat number; spaces, hyphens and case do not matter" }),
  issuer: z.string().max(200).optional().meta({ description: "Part of the name of whoever issued the documents" }),
  verdict: z.enum(OUTCOMES).optional(),
  tag: listQuerySchema.shape.tag,
  createdFrom: listQuerySchema.shape.createdFrom,
  createdBefore: listQuerySchema.shape.createdBefore,
  limit: limitParameter,
  cursor: cursorParameter,
});

/** Heats across submissions: where one was handed in before, and what came of it. */
export function heatRoutes({ listHeats }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/heats")
    .get(needs("read"), async (request, response) => {
      const { heat, issuer, ...query } = readQuery(request, heatsQuerySchema);
      const owner = holderOf(response).client;
      const filter = { ...listFilter(query, owner), owner, ...(heat ? { heat } : {}), ...(issuer ? { issuer } : {}) };
      const page = await readPage(() => listHeats(filter, query.limit, query.cursor));
      response
        .set("Cache-Control", "private, no-cache")
        .json({ items: page.items.map(heatBody), ...nextLink(request.originalUrl, page.next) });
    })
    .all(allowMethods("GET"));

  return router;
}
