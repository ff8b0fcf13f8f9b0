import { expect, test } from "vitest";
import { apiSettingsSchema } from "../../api/config.js";
import { BadSettings, profileOf, readSettings, settingsSchema } from "../../worker/config.js";
import { settingsReference } from "../../worker/settings-reference.js";

test("nothing set is the embedded profile", () => {
  const settings = readSettings({ HOME: "/root", REDIS_URL: "" });
  expect(profileOf(settings)).toBe("embedded");
  expect(settings).toMatchObject({
    HEATGATE_DATA: "data",
    HEATGATE_WEBHOOK_ALLOW: [],
    HEATGATE_WEBHOOK_PORTS: [443, 8443],
  });
});

test.each([
  [{ DATABASE_URL: "postgres://db/heatgate" }, "server"],
  [{ DATABASE_URL: "postgres://db/heatgate", REDIS_URL: "rediss://cache:6380/1" }, "scaled"],
  [{ DATABASE_URL: "postgres://db/heatgate", REDIS_SENTINELS: "a:26379, b:26379" }, "scaled"],
])("%o is the %s profile", (environment, profile) => {
  expect(profileOf(readSettings(environment))).toBe(profile);
});

test.each([
  [{ REDIS_URL: "redis://cache" }, "needs DATABASE_URL"],
  [{ S3_BUCKET: "b" }, "needs DATABASE_URL"],
  [{ DATABASE_URL: "mysql://db" }, "DATABASE_URL"],
  [{ HEATGATE_CONCURRENCY: "0" }, "HEATGATE_CONCURRENCY"],
  [{ HEATGATE_WEBHOOK_ALLOW: "loopback,everything" }, "HEATGATE_WEBHOOK_ALLOW"],
  [{ HEATGATE_WEBHOOK_PORTS: "443,https" }, "HEATGATE_WEBHOOK_PORTS"],
  [{ HEATGATE_LOG_LEVEL: "loud", HEATGATE_WORKER_PORT: "x" }, "HEATGATE_LOG_LEVEL"],
])("%o is refused with the name of what is wrong", (environment, name) => {
  expect(() => readSettings(environment)).toThrow(BadSettings);
  expect(() => readSettings(environment)).toThrow(name);
});

test("every setting says what it is for, so that the reference can be made from it", () => {
  for (const [name, schema] of Object.entries({ ...settingsSchema.shape, ...apiSettingsSchema.shape })) {
    expect(schema.description, name).toMatch(/^[A-Z].*[.]$/);
  }
});

test("the reference has a line for every setting, with its default and its meaning", () => {
  const lines = settingsReference({ "HTTP front": apiSettingsSchema })
    .split("\n")
    .filter((line) => line.startsWith("| `"));
  expect(lines).toHaveLength(Object.keys({ ...settingsSchema.shape, ...apiSettingsSchema.shape }).length);
  for (const line of lines) expect(line).toMatch(/^\| `[A-Z0-9_]+` \| (`[^`]+`)? \| [A-Z].*[.] \|$/);
  expect(lines).toContainEqual(expect.stringMatching(/`HEATGATE_SWEEP_SECONDS` \| `30` \|/));
  expect(lines).toContainEqual(expect.stringMatching(/`PORT` \| `8080` \|/));
});
