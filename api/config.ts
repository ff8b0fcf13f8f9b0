import { z } from "zod";
import type { RateRules } from "./middleware/limit-rate.js";

const count = (fallback: number, atLeast = 1) => z.coerce.number().int().min(atLeast).default(fallback);

/** Every setting of the HTTP front; those of stores and worker are in worker/config.ts. */
export const apiSettingsSchema = z.object({
  HOST: z.string().default("127.0.0.1").describe("Address that the HTTP front listens on; 0.0.0.0 in a container."),
  PORT: z.coerce.number().int().min(0).max(65_535).default(8080).describe("Its port; 0: any free one."),
  HEATGATE_METRICS_HOST: z.string().default("127.0.0.1").describe("Address of the HTTP front's metrics port."),
  HEATGATE_METRICS_PORT: z.coerce
    .number()
    .int()
    .min(0)
    .max(65_535)
    .optional()
    .describe("Port for /metrics of the HTTP front and, embedded, of its worker, beside probes. Left out: none."),
  HEATGATE_MAX_DOCUMENT_BYTES: count(25_000_000).describe("Largest document."),
  HEATGATE_MAX_SUBMISSION_BYTES: count(100_000_000).describe("Largest submission, all documents together."),
  HEATGATE_MAX_DOCUMENTS: count(50).describe("Most documents in one submission."),
  HEATGATE_REQUESTS_PER_MINUTE: count(1_200).describe("Requests that one key may send in a minute."),
  HEATGATE_BYTES_PER_MINUTE: count(1_000_000_000).describe("Bytes that one key may send in a minute."),
  HEATGATE_MAX_BACKLOG: count(10_000).describe("Submissions that may wait for work before further ones are refused."),
});

export interface ApiConfig {
  readonly host: string;
  readonly port: number;
  readonly limits: UploadLimits;
  readonly rates: RateRules;
  readonly backlog: number;
  readonly metrics?: { readonly host: string; readonly port: number };
}

export interface UploadLimits {
  readonly documentBytes: number;
  readonly submissionBytes: number;
  readonly documents: number;
}

/** Throws one sentence that names every setting at fault. */
export function readApiConfig(environment: Readonly<Record<string, string | undefined>>): ApiConfig {
  // A variable that is set to nothing, as compose files do it, is a variable that is not set.
  const given = Object.fromEntries(Object.entries(environment).filter(([, value]) => value !== ""));
  const parsed = apiSettingsSchema.safeParse(given);
  if (!parsed.success) {
    const faults = parsed.error.issues.map((issue) => `${issue.path.join(".")}: ${issue.message}`);
    throw new Error(`The settings have faults: ${faults.join("; ")}`);
  }
  const settings = parsed.data;
  return {
    host: settings.HOST,
    port: settings.PORT,
    limits: {
      documentBytes: settings.HEATGATE_MAX_DOCUMENT_BYTES,
      submissionBytes: settings.HEATGATE_MAX_SUBMISSION_BYTES,
      documents: settings.HEATGATE_MAX_DOCUMENTS,
    },
    rates: {
      requestsPerMinute: settings.HEATGATE_REQUESTS_PER_MINUTE,
      bytesPerMinute: settings.HEATGATE_BYTES_PER_MINUTE,
    },
    backlog: settings.HEATGATE_MAX_BACKLOG,
    ...(settings.HEATGATE_METRICS_PORT !== undefined && {
      metrics: { host: settings.HEATGATE_METRICS_HOST, port: settings.HEATGATE_METRICS_PORT },
    }),
  };
}
