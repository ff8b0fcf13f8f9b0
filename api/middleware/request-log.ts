import { randomUUID } from "node:crypto";
import type { IncomingMessage, ServerResponse } from "node:http";
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
    // Its own serializers would run before ours, and take headers and all that hangs on an error. Errors go by the log's own.
    wrapSerializers: false,
    serializers: {
      req: (request) => ({ id: request.id, method: request.method, path: pathToLog(request.url) }),
      res: (response) => ({ status: response.statusCode }),
    },
    // Not by customProps, which would write them twice: as the request begins, when no route is known, and as it ends.
    customSuccessObject: (request, response, line) => ({ ...line, ...whatAndWhose(request, response) }),
    customErrorObject: (request, response, _error, line) => ({ ...line, ...whatAndWhose(request, response) }),
    customLogLevel: (_request, response) => (response.statusCode >= 500 ? "error" : "info"),
  });
  return (request, response, next) => {
    log(request, response);
    response.set("X-Request-Id", String(request.id));
    next();
  };
}

function whatAndWhose(request: IncomingMessage, response: ServerResponse) {
  const { holder, trace } = (response as Response).locals ?? {};
  return { route: routeOf(request as Request), ...(holder && { client: holder.client }), ...trace };
}

/** Queries may carry names of documents and, by a sender's mistake, secrets; an address may have a key where its id belongs. */
function pathToLog(url: string): string {
  const [path = ""] = url.split("?", 1);
  return path.replace(/(?:hg_live|whsec)_[^/]*/g, "[removed]");
}
