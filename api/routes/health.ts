import { type Response, Router } from "express";
import { answersProbe } from "../../worker/store/answers-probe.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { Problem } from "../problems.js";

/**
 * /livez: this process answers. /startupz: it has opened its stores, before which every path answers 503. /readyz: a submission
 * could be kept now; the queue is not asked, for what is kept while it is away is brought to it later.
 */
export function healthRoutes({ records, documents, logger }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  for (const path of ["/livez", "/startupz"]) {
    router
      .route(path)
      .get((_request, response) => sendPass(response))
      .all(allowMethods("GET"));
  }

  router
    .route("/readyz")
    .get(async (_request, response) => {
      try {
        await answersProbe(Promise.all([records.check(), documents.check()]));
      } catch (error) {
        logger.warn({ err: error }, "not ready");
        throw new Problem("store-unavailable", { headers: { "Retry-After": "5" } });
      }
      sendPass(response);
    })
    .all(allowMethods("GET"));

  return router;
}

/** Said anew each time: not by Express, which would give it an ETag and answer 304. */
function sendPass(response: Response): void {
  response.set({ "Cache-Control": "no-store", "Content-Type": "application/json" }).end('{"status":"pass"}');
}
