import { randomUUID } from "node:crypto";
import { context, DiagLogLevel, diag, propagation, trace } from "@opentelemetry/api";
import type { SpanProcessor } from "@opentelemetry/sdk-trace-base";
import type { Logger } from "pino";
import { BadSettings, type Settings } from "../config.js";
import { programVersion } from "../program-version.js";
import { sampled } from "../sampled.js";
import { within } from "../within.js";

export interface Tracing {
  /** Sends what was not sent yet, for a few seconds at most. */
  stop(): Promise<void>;
}

type TracingSettings = Pick<Settings, "HEATGATE_TRACES_URL" | "HEATGATE_TRACES_SHARE">;

/**
 * Sends spans of this process to a collector, by OTLP over HTTP, where the settings name one. The packages for it are optional, and
 * loaded only then. A collector that is away costs spans and nothing else.
 * @param part names the process in the traces: "api" or "worker"
 */
export async function startTracing(
  settings: TracingSettings,
  part: string,
  log: Pick<Logger, "warn">,
  load = loadPackages,
): Promise<Tracing> {
  const { HEATGATE_TRACES_URL: url, HEATGATE_TRACES_SHARE: share } = settings;
  if (url === undefined) return { stop: async () => {} };
  const packages = await load().catch((error: NodeJS.ErrnoException) => {
    if (error.code !== "ERR_MODULE_NOT_FOUND") throw error;
    throw new BadSettings(
      "HEATGATE_TRACES_URL: traces need packages that are not installed here; npm install --include=optional installs them",
    );
  });
  const say = sampled((error, unsaid) => log.warn({ err: error, unsaid }, "traces are not delivered"), SAY_EVERY_MS);
  const tell = (message: string) => say(asError(message));
  const nothing = () => {};
  diag.setLogger(
    { error: tell, warn: tell, info: nothing, debug: nothing, verbose: nothing },
    { logLevel: DiagLogLevel.WARN, suppressOverrideMessage: true },
  );
  const exporter = new packages.OTLPTraceExporter({ url, timeoutMillis: EXPORT_WITHIN_MS });
  return registerTracing(packages, part, share, new packages.BatchSpanProcessor(exporter));
}

/** The packages tell an error as JSON of all that hangs on it. */
function asError(told: string): Error {
  try {
    const { message, code } = JSON.parse(told);
    return Object.assign(new Error(String(message)), { code });
  } catch {
    return new Error(told);
  }
}

const SAY_EVERY_MS = 60_000;
const EXPORT_WITHIN_MS = 4_000;
const LAST_SPANS_MS = 5_000;

export type TracingPackages = Awaited<ReturnType<typeof loadPackages>>;

export async function loadPackages() {
  const [hooks, core, exporter, resources, sdk] = await Promise.all([
    import("@opentelemetry/context-async-hooks"),
    import("@opentelemetry/core"),
    import("@opentelemetry/exporter-trace-otlp-http"),
    import("@opentelemetry/resources"),
    import("@opentelemetry/sdk-trace-base"),
  ]);
  return { ...hooks, ...core, ...exporter, ...resources, ...sdk };
}

/** From now on spans of this process go to `processor`. */
export function registerTracing(
  packages: TracingPackages,
  part: string,
  share: number,
  processor: SpanProcessor,
): Tracing {
  const provider = new packages.BasicTracerProvider({
    resource: packages.resourceFromAttributes({
      "service.namespace": "heatgate",
      "service.name": `heatgate-${part}`,
      "service.version": programVersion(),
      "service.instance.id": randomUUID(),
    }),
    // A trace that came in is followed, or not, as whoever began it chose.
    sampler: new packages.ParentBasedSampler({ root: new packages.TraceIdRatioBasedSampler(share) }),
    spanProcessors: [processor],
  });
  trace.setGlobalTracerProvider(provider);
  context.setGlobalContextManager(new packages.AsyncLocalStorageContextManager().enable());
  propagation.setGlobalPropagator(new packages.W3CTraceContextPropagator());
  return {
    async stop() {
      await within(
        LAST_SPANS_MS,
        provider.shutdown().catch((error) => diag.error(String(error))),
      );
      for (const global of [trace, context, propagation, diag]) global.disable();
    },
  };
}
