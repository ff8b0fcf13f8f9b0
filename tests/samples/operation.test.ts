import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { parseAllDocuments } from "yaml";
import { apiSettingsSchema, readApiConfig } from "../../api/config.js";
import { measureRequests } from "../../api/middleware/measure-requests.js";
import manifest from "../../package.json" with { type: "json" };
import { profileOf, readSettings, settingsSchema } from "../../worker/config.js";
import { createMetrics } from "../../worker/metrics.js";
import { createRegistry } from "../../worker/process-metrics.js";
import { createStoreGauge } from "../../worker/watch-stores.js";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const FOLDER = join(ROOT, "samples/operation");
const SETTINGS = new Set(Object.keys({ ...settingsSchema.shape, ...apiSettingsSchema.shape }));
const text = (path: string) => readFileSync(join(ROOT, path), "utf8");

// biome-ignore lint/suspicious/noExplicitAny: foreign formats, looked into one field at a time
type Loose = any;

/** Every document of a YAML file; a fault in it throws. */
function readYaml(name: string): Loose[] {
  return parseAllDocuments(readFileSync(join(FOLDER, name), "utf8"), { merge: true, strict: true }).map((document) => {
    if (document.errors[0]) throw document.errors[0];
    return document.toJS();
  });
}

/** "node dist/worker/main.js" is there when its source is. */
function expectProgram(command: readonly string[] | undefined): void {
  for (const part of command ?? [])
    if (part.startsWith("dist/"))
      expect(existsSync(join(ROOT, part.replace(/^dist\/(.*)[.]js$/, "$1.ts"))), part).toBe(true);
}

function expectSettings(environment: Record<string, string>, profile: string): void {
  for (const name of Object.keys(environment)) expect(SETTINGS, name).toContain(name);
  expect(profileOf(readSettings(environment))).toBe(profile);
  readApiConfig(environment);
  // With no data folder in common, each process would make a sealing key of its own.
  if (profile === "scaled") expect(environment).toHaveProperty("HEATGATE_SEALING_KEY_FILE");
}

describe.each(["embedded", "server", "scaled"])("compose.%s.yaml", (profile) => {
  const compose = readYaml(`compose.${profile}.yaml`)[0];
  const ours = Object.entries<Loose>(compose.services).filter(([, service]) => service.build !== undefined);

  test("its services are given only settings that exist, and these choose the profile", () => {
    expect(ours.length).toBeGreaterThan(0);
    for (const [, { environment }] of ours) expectSettings({ ...environment, HEATGATE_DATA: "/data" }, profile);
  });

  test("it names only commands, folders, volumes and secrets that are there", () => {
    for (const [, service] of ours) {
      expect(existsSync(join(FOLDER, service.build, "Dockerfile"))).toBe(true);
      expectProgram(service.command);
      for (const volume of service.volumes ?? []) expect(compose.volumes).toHaveProperty(volume.split(":")[0]);
      for (const secret of service.secrets ?? []) expect(compose.secrets).toHaveProperty(secret);
      for (const name of Object.keys(service.depends_on ?? {})) expect(compose.services).toHaveProperty(name);
      for (const [name, value] of Object.entries<string>(service.environment))
        if (name.endsWith("_FILE")) expect(service.secrets).toContain(value.replace("/run/secrets/", ""));
    }
  });

  test("a worker's own health is asked for, not that of an api it does not run", () => {
    const workers = ours.filter(([, { command }]) => command?.includes("dist/worker/main.js"));
    expect(workers).toHaveLength(profile === "embedded" ? 0 : 1);
    for (const [, { healthcheck, environment }] of workers)
      expect(healthcheck.test.join(" ")).toContain(`127.0.0.1:${environment.HEATGATE_WORKER_PORT}/livez`);
  });

  test("stopping waits longer than a polite stop", () => {
    const stopSeconds = readSettings({}).HEATGATE_STOP_SECONDS;
    for (const [, service] of ours) expect(Number.parseInt(service.stop_grace_period, 10)).toBeGreaterThan(stopSeconds);
  });
});

test("Redis of compose.scaled.yaml passes the program's own check of its settings", () => {
  const command = readYaml("compose.scaled.yaml")[0].services.queue.command.join(" ");
  expect(command).toContain("--maxmemory-policy noeviction");
  expect(command).toContain("--appendonly yes");
});

describe("kubernetes.yaml", () => {
  const objects = readYaml("kubernetes.yaml");
  const pods = objects.flatMap(({ spec }) => spec?.template?.spec ?? []);
  const containers = pods.flatMap((pod) => pod.containers);

  test("its settings exist and choose the scaled profile", () => {
    expectSettings(objects.find(({ kind }) => kind === "ConfigMap").data, "scaled");
  });

  test("commands, probes and ports are those of the program", () => {
    const { HEATGATE_METRICS_PORT, HEATGATE_WORKER_PORT } = objects[0].data;
    expect(HEATGATE_METRICS_PORT).toBe(HEATGATE_WORKER_PORT);
    const known: Record<string, number> = { http: readApiConfig({}).port, metrics: Number(HEATGATE_METRICS_PORT) };
    expect(containers).toHaveLength(3);
    for (const container of containers) {
      expectProgram(container.command);
      for (const { name, containerPort } of container.ports ?? []) expect(known[name]).toBe(containerPort);
      for (const probe of ["startupProbe", "readinessProbe", "livenessProbe"].flatMap((key) => container[key] ?? [])) {
        expect(["/livez", "/readyz", "/startupz"]).toContain(probe.httpGet.path);
        expect(container.ports.map(({ name }: Loose) => name)).toContain(probe.httpGet.port);
      }
    }
    for (const pod of pods.filter(({ terminationGracePeriodSeconds }) => terminationGracePeriodSeconds !== undefined))
      expect(pod.terminationGracePeriodSeconds).toBeGreaterThan(readSettings({}).HEATGATE_STOP_SECONDS);
  });

  test("what points at something points at something that is there", () => {
    const deployments = objects.filter(({ kind }) => kind === "Deployment");
    const labels = deployments.map(({ spec }) => spec.template.metadata.labels.app);
    const scaled = objects.find(({ kind }) => kind === "ScaledObject");
    expect(deployments.map(({ metadata }) => metadata.name)).toContain(scaled.spec.scaleTargetRef.name);
    expectKnownMetrics(scaled.spec.triggers.map(({ metadata }: Loose) => metadata.query));
    for (const { kind, spec } of objects) {
      if (kind === "Service") expect(labels).toContain(spec.selector.app);
      if (kind === "PodDisruptionBudget") expect(labels).toContain(spec.selector.matchLabels.app);
    }
  });
});

describe("metrics that are named", () => {
  const rules = readYaml("alerts.yaml")[0].groups.flatMap(({ rules: of }: Loose) => of);

  test("by alerts and dashboard exist, with their labels", () => {
    const dashboard = JSON.parse(readFileSync(join(FOLDER, "dashboard.json"), "utf8"));
    expectKnownMetrics(rules.map(({ expr }: Loose) => expr));
    expectKnownMetrics(dashboard.panels.flatMap(({ targets }: Loose) => targets.map(({ expr }: Loose) => expr)));
    expect(new Set(dashboard.panels.map(({ id }: Loose) => id)).size).toBe(dashboard.panels.length);
  });

  test("and each alert has its line in the runbook", () => {
    const runbook = [...readFileSync(join(FOLDER, "README.md"), "utf8").matchAll(/^\| (Heatgate\w+) \|/gm)];
    expect(runbook.map(([, name]) => name)).toEqual(rules.map(({ alert }: Loose) => alert));
    expect(runbook).toHaveLength(11);
  });

  test("the runbook names only log lines, codes and routes that the program has", () => {
    const runbook = text("samples/operation/README.md");
    const sources = ["api", "worker", "core"].flatMap((folder) =>
      readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
        .filter((path) => path.endsWith(".ts"))
        .map((path) => text(join(folder, path))),
    );
    const named = [
      ...[...runbook.matchAll(/log lines? `([^`]+)`/g)].map(([, line]) => `"${line}"`),
      ...[...runbook.matchAll(/`([a-z]+-[a-z-]+)`/g)].map(([, code]) => `"${code}"`),
      ...[...runbook.matchAll(/`(?:GET )?(\/v1\/[^`]+)`/g)].map(([, path]) => `"${path}"`),
    ];
    expect(named.length).toBeGreaterThan(8);
    expect(named.filter((words) => !sources.some((source) => source.includes(words)))).toEqual([]);
  });

  test("what is scraped are services of the compose files", () => {
    const [scrape] = readYaml("prometheus.yaml")[0].scrape_configs;
    const services = ["embedded", "server", "scaled"].flatMap((profile) =>
      Object.keys(readYaml(`compose.${profile}.yaml`)[0].services),
    );
    for (const name of scrape.dns_sd_configs[0].names) expect(services).toContain(name);
  });
});

function expectKnownMetrics(expressions: readonly string[]): void {
  const registry = createRegistry();
  createMetrics(registry);
  measureRequests(registry);
  createStoreGauge(registry);
  const known = new Map(
    registry.getMetricsAsArray().map((metric) => {
      const { name, labelNames } = metric as unknown as { name: string; labelNames: string[] };
      return [name, labelNames];
    }),
  );
  expect(expressions.length).toBeGreaterThan(0);
  for (const expression of expressions) {
    const named = [...expression.matchAll(/\b((?:heatgate|http_server|process)_\w+)(?:\{([^}]*)\})?/g)];
    expect(named.length, expression).toBeGreaterThan(0);
    for (const [, name = "", selectors = ""] of named) {
      const metric = name.replace(/_(bucket|count|sum)$/, "");
      expect([...known.keys()]).toContain(metric);
      for (const [, label = ""] of selectors.matchAll(/(\w+)=/g)) expect(known.get(metric)).toContain(label);
      for (const [, by = ""] of expression.matchAll(/by \(([^)]*)\)/g))
        for (const label of by.split(", ")) if (label !== "le") expect(known.get(metric)).toContain(label);
    }
  }
}

describe.each(["README.md", "DEVELOPERS.md", "samples/operation/README.md"])("%s", (path) => {
  test("names only settings that exist", () => {
    const named = text(path).match(/\b(HEATGATE|DATABASE|REDIS|S3)_[A-Z][A-Z0-9_]*\b/g) ?? [];
    expect(named.filter((name) => !SETTINGS.has(name))).toEqual([]);
  });

  test("names only npm commands that exist", () => {
    const named = [...text(path).matchAll(/npm run ([\w-]+)/g)].map(([, name]) => name);
    expect(named.filter((name) => !Object.keys(manifest.scripts).includes(name!))).toEqual([]);
  });
});

test("the compose file in the README gives only settings and ports that exist", () => {
  const [, yaml = ""] = /```yaml\n([\s\S]*?)```/.exec(text("README.md"))!;
  const { heatgate } = parseAllDocuments(yaml)[0]!.toJS().services;
  expect(heatgate.ports).toEqual([`8080:${readApiConfig({}).port}`]);
  for (const name of Object.keys(heatgate.environment ?? {})) expect(SETTINGS).toContain(name);
});

test("the Dockerfile copies only what is there and let through, and starts what is built", () => {
  const dockerfile = text("Dockerfile");
  const letThrough = text(".dockerignore")
    .split("\n")
    .filter((line) => line.startsWith("!"))
    .map((line) => new RegExp(`^${line.slice(1).replaceAll(".", "[.]").replaceAll("*", ".*")}(/|$)`));
  const copied = [...dockerfile.matchAll(/^COPY (?!--from)(.*) \S+$/gm)].flatMap(([, paths]) => paths!.split(" "));
  expect(copied.length).toBeGreaterThan(5);
  for (const path of copied) {
    expect(existsSync(join(ROOT, path)), path).toBe(true);
    expect(
      letThrough.some((pattern) => pattern.test(path)),
      path,
    ).toBe(true);
  }
  for (const [program] of dockerfile.matchAll(/dist\/[\w/-]+[.]js/g)) expectProgram([program]);
  expect(readdirSync(join(ROOT, "core/grades/data")).length).toBeGreaterThan(0);
  for (const [, name] of dockerfile.matchAll(/^ENV (.*)$/gm))
    for (const [, setting] of name!.matchAll(/(\w+)=/g))
      if (setting !== "NODE_ENV") expect(SETTINGS).toContain(setting);
});
