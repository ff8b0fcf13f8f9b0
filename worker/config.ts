import { readFileSync } from "node:fs";
import { z } from "zod";

const count = (fallback: number, atLeast: number, atMost: number) =>
  z.coerce.number().int().min(atLeast).max(atMost).default(fallback);
const keptDays = (fallback: number) => count(fallback, 0, 36_500);
const list = z
  .string()
  .default("")
  .transform((text) => text.split(/[\s,]+/).filter((part) => part !== ""));

/**
 * Every setting of stores and worker. The descriptions are the configuration reference: it is generated from here, so that
 * what is documented is what is checked.
 */
export const settingsSchema = z.object({
  HEATGATE_DATA: z
    .string()
    .default("data")
    .describe("Folder for everything the embedded profile keeps; documents of the server profile without S3."),
  HEATGATE_PUBLIC_URL: z
    .url({ protocol: /^https?$/ })
    .default("http://127.0.0.1:8080")
    .describe("How receivers and browsers reach the service. Begins the addresses in events."),
  HEATGATE_SEALING_KEY_FILE: z
    .string()
    .optional()
    .describe(
      "File that holds the key for secrets in the database, the same for every process: openssl rand -base64 32. Left out: " +
        "sealing.key in the data folder, made at the first start. A further line holds an older key.",
    ),
  HEATGATE_GRADES: list.describe("Folders with your own grade files, separated by commas; later ones win."),

  DATABASE_URL: z
    .string()
    .regex(/^postgres(ql)?:\/\//, "must begin with postgres: and two slashes")
    .optional()
    .describe("PostgreSQL 14 or newer for records and queue. Left out: the embedded profile."),
  DATABASE_PASSWORD_FILE: z.string().optional().describe("File that holds the database password, instead of the URL."),
  DATABASE_CA_FILE: z.string().optional().describe("Certificate authority of the database; turns TLS on."),
  DATABASE_CONNECTIONS: count(20, 4, 500).describe("Most connections to PostgreSQL that one process opens."),

  REDIS_URL: z
    .url({ protocol: /^rediss?$/ })
    .optional()
    .describe("Redis 7 or newer for the queue; rediss:// speaks TLS. Needs DATABASE_URL: records stay in PostgreSQL."),
  REDIS_PASSWORD_FILE: z.string().optional().describe("File that holds the Redis password, instead of the URL."),
  REDIS_CA_FILE: z.string().optional().describe("Certificate authority of Redis; with rediss:// only."),
  REDIS_SENTINELS: list.describe(
    "Sentinels as host:port, separated by commas. REDIS_URL then gives user and database.",
  ),
  REDIS_SENTINEL_NAME: z.string().default("mymaster").describe("Name of the master that the Sentinels watch."),
  REDIS_CLUSTER: list.describe("Nodes of a Redis Cluster as host:port, separated by commas."),

  S3_BUCKET: z.string().optional().describe("Bucket for documents. Left out: the data folder."),
  S3_REGION: z.string().default("us-east-1").describe("Region of the bucket."),
  S3_ENDPOINT: z
    .url({ protocol: /^https?$/ })
    .optional()
    .describe("Address of an S3-compatible server."),
  S3_PREFIX: z.string().default("documents/").describe("What the names of all objects begin with."),
  S3_ACCESS_KEY_ID: z.string().optional().describe("Key for the bucket. Left out: the surroundings' own credentials."),
  S3_SECRET_ACCESS_KEY_FILE: z.string().optional().describe("File that holds the secret of the key."),

  HEATGATE_CONCURRENCY: count(2, 1, 64).describe("Submissions that one worker judges at the same time."),
  HEATGATE_READERS: count(2, 1, 64).describe("Child processes kept ready for reading documents."),
  HEATGATE_WEBHOOK_ALLOW: list
    .pipe(z.array(z.enum(["loopback", "private", "http"])))
    .describe(
      "What webhooks may reach beyond the open internet by https: loopback (this machine), private (your own network), " +
        "http (without TLS). Empty: nothing.",
    ),
  HEATGATE_WEBHOOK_PORTS: list
    .transform((parts) => (parts.length === 0 ? [443, 8443] : parts.map(Number)))
    .pipe(z.array(z.int().min(1).max(65_535)))
    .describe("Ports that webhooks may be sent to. Empty: 443 and 8443."),
  HEATGATE_WEBHOOK_DISABLE_HOURS: count(120, 1, 10_000).describe(
    "How long a registered receiver may take nothing before it is disabled, and its owner told.",
  ),
  HEATGATE_STOP_SECONDS: count(25, 1, 600).describe("How long a polite stop waits for jobs that are running."),
  HEATGATE_SWEEP_SECONDS: count(30, 1, 3_600).describe("How often unfinished work is looked for."),
  HEATGATE_KEEP_SUBMISSIONS_DAYS: keptDays(0).describe(
    "Days after which a finished submission is erased, with its report, documents and everything else that was made of it; 0: never.",
  ),
  HEATGATE_KEEP_DOCUMENTS_DAYS: keptDays(0).describe(
    "Days after which the bytes of a finished submission's documents are erased, while its report stays; 0: never.",
  ),
  HEATGATE_KEEP_EVENTS_DAYS: keptDays(0).describe(
    "Days after which an event leaves the feed and its deliveries the log, unless one is still to be delivered; 0: never.",
  ),
  HEATGATE_KEEP_DRY_RUNS_DAYS: keptDays(7).describe("Days after which the answer of a dry run is removed; 0: never."),
  HEATGATE_KEEP_GRADES_MET_DAYS: keptDays(0).describe(
    "Days after which the answer which grades heats meet is removed; it is worked out anew when asked for. 0: never.",
  ),
  HEATGATE_KEEP_IDEMPOTENCY_KEYS_DAYS: keptDays(2).describe(
    "Days after which an Idempotency-Key is removed; it has no effect after 24 hours. 0: never.",
  ),
  HEATGATE_HEARTBEAT_SECONDS: count(300, 0, 86_400).describe(
    "How often a known document is judged and its verdict compared; 0: never.",
  ),
  HEATGATE_WORKER_HOST: z.string().default("127.0.0.1").describe("Address of the worker's health and metrics port."),
  HEATGATE_WORKER_PORT: count(9_090, 0, 65_535).describe("The worker's health and metrics port; 0: any free one."),
  HEATGATE_TRACES_URL: z
    .url({ protocol: /^https?$/ })
    .optional()
    .describe(
      "Where an OpenTelemetry collector takes traces by OTLP over HTTP, as http://127.0.0.1:4318/v1/traces. Left out: no traces. " +
        "OTEL_EXPORTER_OTLP_HEADERS adds headers.",
    ),
  HEATGATE_TRACES_SHARE: z.coerce
    .number()
    .min(0)
    .max(1)
    .default(1)
    .describe("Which part of the traces that begin here is sent; 0.01 is one in a hundred."),
  HEATGATE_LOG_LEVEL: z
    .enum(["fatal", "error", "warn", "info", "debug", "trace", "silent"])
    .default("info")
    .describe("How much is logged."),
});

export type Settings = z.infer<typeof settingsSchema>;

export class BadSettings extends Error {
  override readonly name = "BadSettings";
}

/** Throws one sentence that names every setting at fault. Unknown variables belong to somebody else. */
export function readSettings(environment: Readonly<Record<string, string | undefined>>): Settings {
  // A variable that is set to nothing, as compose files do it, is a variable that is not set.
  const given = Object.fromEntries(Object.entries(environment).filter(([, value]) => value !== ""));
  const parsed = settingsSchema.safeParse(given);
  const faults = parsed.success
    ? contradictions(parsed.data)
    : parsed.error.issues.map((issue) => `${issue.path.join(".")}: ${issue.message}`);
  if (!parsed.success || faults.length > 0) throw new BadSettings(`The settings have faults: ${faults.join("; ")}`);
  return parsed.data;
}

/** Which of the three ways to run these settings ask for. */
export function profileOf(settings: Settings): "embedded" | "server" | "scaled" {
  if (!settings.DATABASE_URL) return "embedded";
  return usesRedis(settings) ? "scaled" : "server";
}

/** A secret that stands in a file of its own, as container platforms mount them. */
export function readSecretFile(path: string | undefined): string | undefined {
  return path === undefined ? undefined : readFileSync(path, "utf8").replace(/\r?\n$/, "");
}

function usesRedis(settings: Settings): boolean {
  return settings.REDIS_URL !== undefined || settings.REDIS_SENTINELS.length > 0 || settings.REDIS_CLUSTER.length > 0;
}

function contradictions(settings: Settings): string[] {
  const faults: string[] = [];
  if (usesRedis(settings) && !settings.DATABASE_URL) {
    faults.push("REDIS_URL: needs DATABASE_URL too; Redis holds the queue only, and records must survive it");
  }
  if (settings.S3_BUCKET && !settings.DATABASE_URL) {
    faults.push("S3_BUCKET: needs DATABASE_URL too; the embedded profile keeps everything in its data folder");
  }
  if (settings.REDIS_SENTINELS.length > 0 && settings.REDIS_CLUSTER.length > 0) {
    faults.push("REDIS_SENTINELS and REDIS_CLUSTER: give one of them");
  }
  return faults;
}
