import type { Request } from "express";

/** The route as it is written, "/v1/submissions/:id": fit for a label, which must not hold an id. */
export function routeOf(request: Request): string {
  const path: unknown = request.route?.path;
  if (typeof path !== "string") return "none";
  // Not from baseUrl: an error has left its router by the time it is answered.
  return request.originalUrl.startsWith("/v1/") ? `/v1${path}` : path;
}
