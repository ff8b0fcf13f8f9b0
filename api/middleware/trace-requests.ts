import { context, SpanKind, SpanStatusCode } from "@opentelemetry/api";
import type { RequestHandler } from "express";
import { beginSpan, contextOf, traceIdOf } from "../../worker/tracing/span.js";
import { knownMethod } from "./known-method.js";
import { routeOf } from "./route-of.js";

/**
 * A span for each request, in the sender's trace where it names one (W3C Trace Context). Names and attributes are those of
 * OpenTelemetry's stable HTTP conventions; no query, which may carry what is nobody's business. Probes are not traced.
 */
export const traceRequests: RequestHandler = (request, response, next) => {
  if (PROBES.has(request.path)) return next();
  const { traceparent } = request.headers;
  const method = knownMethod(request.method);
  const { span, inside } = beginSpan(method, {
    kind: SpanKind.SERVER,
    attributes: { "http.request.method": method, "url.path": request.path, "url.scheme": request.protocol },
    parent: contextOf(typeof traceparent === "string" ? traceparent : undefined),
  });
  // For the line of this request, which is written after everything that ran inside.
  response.locals.trace = traceIdOf(span);
  response.once("close", () => {
    const route = routeOf(request);
    span.updateName(`${method} ${route}`);
    span.setAttribute("http.route", route);
    if (response.writableFinished) span.setAttribute("http.response.status_code", response.statusCode);
    else span.setAttribute("error.type", "aborted");
    if (response.statusCode >= 500 || !response.writableFinished) span.setStatus({ code: SpanStatusCode.ERROR });
    span.end();
  });
  context.with(inside, next);
};

const PROBES: ReadonlySet<string> = new Set(["/livez", "/readyz", "/startupz"]);
