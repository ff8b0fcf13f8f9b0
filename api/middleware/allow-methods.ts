import type { RequestHandler } from "express";
import { Problem } from "../problems.js";

/** Last handler of a route: answers OPTIONS, refuses every method that no handler before it took. */
export function allowMethods(...methods: readonly string[]): RequestHandler {
  const allow = [...methods, ...(methods.includes("GET") ? ["HEAD"] : []), "OPTIONS"].join(", ");
  return (request, response) => {
    if (request.method !== "OPTIONS") throw new Problem("method-not-allowed", { headers: { Allow: allow } });
    response.status(204).set("Allow", allow).end();
  };
}
