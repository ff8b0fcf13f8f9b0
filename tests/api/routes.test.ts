import type { Express } from "express";
import { Registry } from "prom-client";
import request from "supertest";
import { expect, it } from "vitest";
import { createApp } from "../../api/app.js";
import { FACES } from "../../api/faces.js";
import { openapiDocument } from "../../api/openapi/document.js";
import { routeTable } from "../../api/openapi/route-table.js";
import { testApi } from "../support/test-api.js";

/** Pages for people, which the description of the API does not name. */
const PAGES = [
  "GET /",
  "GET /page.css",
  "GET /page.js",
  "GET /docs",
  "POST /session",
  "POST /session/end",
  "POST /submissions",
  "GET /submissions/{id}",
  "POST /submissions/{id}/decisions",
  "POST /submissions/{id}/corrections",
];

interface Layer {
  readonly route?: { readonly path: string; readonly stack: readonly { readonly method?: string }[] };
  readonly handle: { readonly stack?: readonly Layer[] };
}

/** Every method and path that a handler was put at; those of routers under /v1 without it. */
function served({ stack = [] }: Layer["handle"]): readonly string[] {
  return stack.flatMap(({ route, handle }) => {
    if (!route) return served(handle);
    const methods = [...new Set(route.stack.flatMap(({ method }) => method ?? []))];
    return methods.map((method) => `${method.toUpperCase()} ${route.path.replace(/:(\w+)/g, "{$1}")}`);
  });
}

it("what is served is described, and what is described is served", () => {
  const api = testApi();
  const app = createApp({ ...api.deps, registry: new Registry() }) as Express & { readonly router: Layer["handle"] };
  const described = Object.entries(openapiDocument(FACES).paths ?? {}).flatMap(([path, item]) =>
    Object.keys(item).map((method) => `${method.toUpperCase()} ${path}`),
  );
  const withoutVersion = (operation: string) => operation.replace(" /v1/", " /");
  expect([...served(app.router)].map(withoutVersion).sort()).toEqual(
    [...described.map(withoutVersion), ...PAGES].sort(),
  );
  api.remove();
});

it("metrics are not served here, and it is said where they are", async () => {
  const api = testApi();
  const { status, body } = await request(api.app).get("/metrics");
  expect([status, body.detail]).toEqual([404, expect.stringContaining("HEATGATE_METRICS_PORT")]);
  api.remove();
});

it("the table of routes has one line for each, with its scope", () => {
  const table = routeTable(openapiDocument(FACES));
  expect(table).toContain("| POST | `/v1/submissions` | submit | Hand in one document");
  expect(table).toContain("| GET | `/livez` | no key |");
  expect(table.split("\n").every((line) => line.split(" | ").length === 4)).toBe(true);
});
