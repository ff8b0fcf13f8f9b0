import type { Request, RequestHandler, Response } from "express";
import { RateLimiterMemory, RateLimiterRes } from "rate-limiter-flexible";
import { Problem } from "../problems.js";
import { holderOf } from "./authenticate.js";

export interface RateRules {
  readonly requestsPerMinute: number;
  readonly bytesPerMinute: number;
}

const WINDOW_SECONDS = 60;

/**
 * Per key, in requests and in bytes sent, told by the fields of draft-ietf-httpapi-ratelimit-headers. Each process counts
 * for itself: the limits keep one client from crowding out the others, they are no accounting.
 */
export function limitRate(rules: RateRules): RequestHandler {
  const requests = new RateLimiterMemory({ points: rules.requestsPerMinute, duration: WINDOW_SECONDS });
  const bytes = new RateLimiterMemory({ points: rules.bytesPerMinute, duration: WINDOW_SECONDS });
  const policy = [
    `"requests";q=${rules.requestsPerMinute};w=${WINDOW_SECONDS}`,
    `"bytes";q=${rules.bytesPerMinute};qu="content-bytes";w=${WINDOW_SECONDS}`,
  ].join(", ");

  return async (request, response, next) => {
    const key = holderOf(response).id;
    const declared = declaredBytes(request);
    // Not counted in the request quota either: nothing of it is read, and its connection ends with the answer.
    if (declared > rules.bytesPerMinute) throw neverFits(declared, rules.bytesPerMinute);
    const left = await Promise.all([take(requests, key, 1), take(bytes, key, declared)]);
    response.set("RateLimit-Policy", policy);
    response.set("RateLimit", `${tell("requests", left[0])}, ${tell("bytes", left[1])}`);
    if (left[0].isExceeded) throw exceeded(left[0], `${rules.requestsPerMinute} requests`);
    if (left[1].isExceeded) throw exceeded(left[1], `${rules.bytesPerMinute} bytes`);
    chargeUndeclared(request, response, (sent) => void bytes.penalty(key, sent));
    next();
  };
}

function exceeded({ resetSeconds }: Left, quota: string): Problem {
  const detail = `The key may send ${quota} in a minute; this would be more.`;
  return new Problem("quota-exceeded", { detail, headers: { "Retry-After": String(resetSeconds) } });
}

/** Told to come back later, its sender would come back for ever. */
function neverFits(declared: number, most: number): Problem {
  const detail = `A key may send ${most} bytes in a minute, and this request alone has ${declared}.`;
  return new Problem("request-too-large", { detail });
}

interface Left {
  readonly points: number;
  readonly resetSeconds: number;
  readonly isExceeded: boolean;
}

async function take(limiter: RateLimiterMemory, key: string, points: number): Promise<Left> {
  try {
    return left(await limiter.consume(key, points), false);
  } catch (error) {
    // The library rejects with its result when the points do not suffice, and with an error when something broke.
    if (!(error instanceof RateLimiterRes)) throw error;
    // It has taken the points all the same. What is refused costs nothing, and who sends nothing owes nothing.
    return left(await limiter.reward(key, points), points > 0);
  }
}

function left(result: RateLimiterRes, isExceeded: boolean): Left {
  return {
    points: Math.max(0, result.remainingPoints),
    resetSeconds: Math.max(1, Math.ceil(result.msBeforeNext / 1_000)),
    isExceeded,
  };
}

function tell(name: string, { points, resetSeconds }: Left): string {
  return `"${name}";r=${points};t=${resetSeconds}`;
}

function declaredBytes(request: Request): number {
  return Number(request.get("Content-Length") ?? 0);
}

/** A body without a stated length is charged when it has come in: it cannot stop this request, but the next. */
function chargeUndeclared(request: Request, response: Response, charge: (bytes: number) => void): void {
  if (request.get("Transfer-Encoding") === undefined) return;
  let bytes = 0;
  // Listening earlier would start the flow before anybody takes the body.
  request.once("resume", () => {
    request.on("data", (chunk: Buffer) => {
      bytes += chunk.length;
    });
  });
  response.once("close", () => charge(bytes));
}
