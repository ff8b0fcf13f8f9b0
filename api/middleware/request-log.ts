import { randomUUID } from "node:crypto";
import type { Request, RequestHandler, Response } from "express";
import type { Logger } from "pino";
import { pinoHttp } from "pino-http";
import { routeOf } from "./route-of.js";

/**
 * One line per request: its route, whose it was, how it ended and how long it took, under a request id that the sender may give
 * and always gets back. No bodies, no headers.
 */
export function requestLog(logger: Logger): RequestHandler {
  const log = pinoHttp({
    logger,
    genReqId: (request) => {
      const given = request.headers["x-request-id"];
      return typeof given === "string" && /^[\w.:-]{1,100}$/.test(given) ? given : randomUUID();
    },
    serializers: {
      req: (request) => ({ id: request.id, method: request.method, path: withoutQuery(request.url) }),
      res: (response) => ({ status: response.statusCode }),
    },
    customProps: (request, response) => ({
      route: routeOf(request as Request),
      ...("locals" in response && { client: (response as Response).locals.holder?.client }),
    }),
    customLogLevel: (_request, response) => (response.statusCode >= 500 ? "error" : "info"),
  });
  return (request, response, next) => {
    log(request, response);
    response.set("X-Request-Id", String(request.id));
    next();
  };
}

/** Queries may carry names of documents and, by a sender's mistake, secrets. */
function withoutQuery(url: string): string {
  return url.split("?", 1)[0] ?? url;
}
