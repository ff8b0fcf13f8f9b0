import type { RequestHandler } from "express";
import { Histogram, type Registry } from "prom-client";
import { knownMethod } from "./known-method.js";
import { routeOf } from "./route-of.js";

/** Names, labels and buckets are those of OpenTelemetry's stable HTTP conventions, as Prometheus writes them. */
export function measureRequests(registry: Registry): RequestHandler {
  const duration = new Histogram({
    name: "http_server_request_duration_seconds",
    help: "From the first byte of a request to the last of its answer, or to its end without one.",
    labelNames: ["http_request_method", "http_route", "http_response_status_code"],
    buckets: [0.005, 0.01, 0.025, 0.05, 0.075, 0.1, 0.25, 0.5, 0.75, 1, 2.5, 5, 7.5, 10],
    registers: [registry],
  });
  return (request, response, next) => {
    const end = duration.startTimer();
    response.once("close", () => {
      end({
        http_request_method: knownMethod(request.method),
        http_route: routeOf(request),
        http_response_status_code: response.statusCode,
      });
    });
    next();
  };
}
