import { Router } from "express";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { openapiDocument } from "../openapi/document.js";
import { docsPage } from "../pages/docs-page.js";
import { PAGE_POLICY } from "../pages/page-policy.js";
import { PROBLEMS, Problem, type ProblemCode } from "../problems.js";

/** What this service says about itself: its OpenAPI document, and what each problem's `type` means. */
export function descriptionRoutes({ faces }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });
  // Made when first asked for: a start must not wait for it.
  let document: ReturnType<typeof openapiDocument> | undefined;
  let page: string | undefined;

  router
    .route("/v1/openapi.json")
    .get((_request, response) => {
      document ??= openapiDocument(faces);
      response.json(document);
    })
    .all(allowMethods("GET"));

  router
    .route("/docs")
    .get((_request, response) => {
      document ??= openapiDocument(faces);
      page ??= docsPage(document);
      response.set("Content-Security-Policy", PAGE_POLICY).type("text/html").send(page);
    })
    .all(allowMethods("GET"));

  router
    .route("/problems/:code")
    .get((request, response) => {
      const { code } = request.params;
      if (!isProblemCode(code)) throw new Problem("path-unknown");
      response.json({ type: `/problems/${code}`, code, ...PROBLEMS[code] });
    })
    .all(allowMethods("GET"));

  return router;
}

function isProblemCode(code: string): code is ProblemCode {
  return Object.hasOwn(PROBLEMS, code);
}
