import type { RequestHandler } from "express";
import type { Records } from "../../worker/store/records.js";
import { Problem } from "../problems.js";

const LOOK_EVERY_MS = 1_000;

/** Takes no more in while the work that waits would take too long: a refusal now is better than a verdict tomorrow. */
export function limitBacklog(records: Pick<Records, "countBacklog">, most: number): RequestHandler {
  let waiting = 0;
  let lookedAt = Number.NEGATIVE_INFINITY;

  return async (_request, _response, next) => {
    if (performance.now() - lookedAt >= LOOK_EVERY_MS) {
      lookedAt = performance.now();
      waiting = (await records.countBacklog()).accepted;
    }
    if (waiting >= most) {
      const detail = `${waiting} submissions wait to be worked on.`;
      throw new Problem("queue-full", { detail, headers: { "Retry-After": "30" } });
    }
    next();
  };
}
