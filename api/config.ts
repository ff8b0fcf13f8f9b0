import { z } from "zod";

const wholeNumber = (fallback: number, atLeast = 1) => z.coerce.number().int().min(atLeast).default(fallback);

const configSchema = z.object({
  HOST: z.string().default("127.0.0.1"),
  /** 0: any free port. */
  PORT: wholeNumber(8080, 0),
  /** Everything the embedded profile keeps: records, documents, uploads in progress. */
  HEATGATE_DATA: z.string().default("data"),
  HEATGATE_MAX_DOCUMENT_BYTES: wholeNumber(25_000_000),
  HEATGATE_MAX_SUBMISSION_BYTES: wholeNumber(100_000_000),
  HEATGATE_MAX_DOCUMENTS: wholeNumber(50),
  HEATGATE_LOG_LEVEL: z.enum(["fatal", "error", "warn", "info", "debug", "trace", "silent"]).default("info"),
});

export interface ApiConfig {
  readonly host: string;
  readonly port: number;
  readonly dataFolder: string;
  readonly limits: UploadLimits;
  readonly logLevel: string;
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
  return {
    host: settings.HOST,
    port: settings.PORT,
    dataFolder: settings.HEATGATE_DATA,
    limits: {
      documentBytes: settings.HEATGATE_MAX_DOCUMENT_BYTES,
      submissionBytes: settings.HEATGATE_MAX_SUBMISSION_BYTES,
      documents: settings.HEATGATE_MAX_DOCUMENTS,
    },
    logLevel: settings.HEATGATE_LOG_LEVEL,
  };
}
