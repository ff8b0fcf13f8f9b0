import { z } from "zod";
import type { RateRules } from "./middleware/limit-rate.js";

const wholeNumber = (fallback: number, atLeast = 1) => z.coerce.number().int().min(atLeast).default(fallback);
const list = z
  .string()
  .default("")
  .transform((text) =>
    text
      .split(",")
      .map((item) => item.trim())
      .filter((item) => item !== ""),
  );

const RECEIVER_KINDS = ["loopback", "private", "http"] as const;

const configSchema = z.object({
  HOST: z.string().default("127.0.0.1"),
  /** 0: any free port. */
  PORT: wholeNumber(8080, 0),
  /** How receivers of webhooks reach this service, where that is not where it listens. */
  HEATGATE_PUBLIC_URL: z.url({ protocol: /^https?$/ }).optional(),
  /** Everything the embedded profile keeps: records, documents, uploads in progress. */
  HEATGATE_DATA: z.string().min(1).default("data"),
  /** Folders of one's own grade files. */
  HEATGATE_GRADES: list,
  /** Submissions judged at the same time. */
  HEATGATE_CONCURRENCY: wholeNumber(2),
  /** What webhooks may reach beyond the open internet by https: loopback, private, http. */
  HEATGATE_RECEIVERS: list.pipe(z.array(z.enum(RECEIVER_KINDS))),
  HEATGATE_RECEIVER_PORTS: list.pipe(z.array(z.coerce.number<string>().int().min(1).max(65_535))),
  HEATGATE_MAX_DOCUMENT_BYTES: wholeNumber(25_000_000),
  HEATGATE_MAX_SUBMISSION_BYTES: wholeNumber(100_000_000),
  HEATGATE_MAX_DOCUMENTS: wholeNumber(50),
  /** What one key may send. */
  HEATGATE_REQUESTS_PER_MINUTE: wholeNumber(1_200),
  HEATGATE_BYTES_PER_MINUTE: wholeNumber(1_000_000_000),
  /** Submissions that may wait to be worked on before further ones are refused. */
  HEATGATE_MAX_BACKLOG: wholeNumber(10_000),
  HEATGATE_LOG_LEVEL: z.enum(["fatal", "error", "warn", "info", "debug", "trace", "silent"]).default("info"),
});

export interface ApiConfig {
  readonly host: string;
  readonly port: number;
  readonly publicUrl?: string;
  readonly dataFolder: string;
  readonly gradeFolders: readonly string[];
  readonly concurrency: number;
  readonly receivers: ReceiverRules;
  readonly limits: UploadLimits;
  readonly rates: RateRules;
  readonly backlog: number;
  readonly logLevel: string;
}

export interface ReceiverRules {
  readonly loopback: boolean;
  readonly private: boolean;
  readonly http: boolean;
  readonly ports: readonly number[];
}

export interface UploadLimits {
  readonly documentBytes: number;
  readonly submissionBytes: number;
  readonly documents: number;
}

/** Throws one sentence that names every variable at fault. */
export function readConfig(environment: Readonly<Record<string, string | undefined>>): ApiConfig {
  const parsed = configSchema.safeParse(environment);
  if (!parsed.success) {
    const faults = parsed.error.issues.map((issue) => `${issue.path.join(".")}: ${issue.message}`);
    throw new Error(`The settings have faults: ${faults.join("; ")}`);
  }
  const settings = parsed.data;
  const receivers = settings.HEATGATE_RECEIVERS;
  return {
    host: settings.HOST,
    port: settings.PORT,
    ...(settings.HEATGATE_PUBLIC_URL ? { publicUrl: settings.HEATGATE_PUBLIC_URL.replace(/\/$/, "") } : {}),
    dataFolder: settings.HEATGATE_DATA,
    gradeFolders: settings.HEATGATE_GRADES,
    concurrency: settings.HEATGATE_CONCURRENCY,
    receivers: {
      loopback: receivers.includes("loopback"),
      private: receivers.includes("private"),
      http: receivers.includes("http"),
      ports: [443, 8443, ...settings.HEATGATE_RECEIVER_PORTS],
    },
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
    logLevel: settings.HEATGATE_LOG_LEVEL,
  };
}
