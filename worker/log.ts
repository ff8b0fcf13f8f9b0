import { type Logger, type LoggerOptions, pino } from "pino";
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
  "err.config",
  "documents",
  "requirement",
  "report",
];

export const LOG_OPTIONS: LoggerOptions = {
  base: { service: "heatgate" },
  mixin: () => ({ ...traceIdOf() }),
  redact: { paths: REDACTED, censor: "[removed]" },
  serializers: { err: pino.stdSerializers.err },
};
