import { type Logger, type LoggerOptions, pino } from "pino";
import { loggedError } from "./log-error.js";
import { traceIdOf } from "./tracing/span.js";

/** One line of JSON for each thing that happened. What a document says never goes into it, nor do names of files. */
export function createLog(level: string): Logger {
  return pino({ ...LOG_OPTIONS, level });
}

/** A second fence: none of these should be logged in the first place. */
const REDACTED = [
  "secret",
  "password",
  "authorization",
  "callback.secret",
  "req.headers.authorization",
  "req.headers.cookie",
  "req.headers['x-api-key']",
  "headers.authorization",
  "documents",
  "requirement",
  "report",
];

export const LOG_OPTIONS: LoggerOptions = {
  base: { service: "heatgate" },
  mixin: () => ({ ...traceIdOf() }),
  redact: { paths: REDACTED, censor: "[removed]" },
  hooks: {
    // An error without words of ours would be logged with its own message, unread by any serializer.
    logMethod(args, method) {
      const [first, ...rest] = args as [unknown, ...unknown[]];
      const said = first instanceof Error ? { err: first } : first;
      method.apply(this, [said, ...(rest.length === 0 && errorIn(said) ? ["an error"] : rest)] as typeof args);
    },
  },
  // Wherever an error stands.
  formatters: { log: withLoggedErrors },
  // Pino would put its own in here.
  serializers: { err: loggedError },
};

function errorIn(said: unknown): boolean {
  return typeof said === "object" && said !== null && "err" in said;
}

function withLoggedErrors(line: Record<string, unknown>): Record<string, unknown> {
  const entries = Object.entries(line);
  return Object.fromEntries(
    entries.map(([key, value]) => [key, key === "err" || value instanceof Error ? loggedError(value) : value]),
  );
}
