import { type ChildProcess, spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openapiDocument } from "../../api/openapi/document.js";
import { signatureHeaders } from "../../worker/webhooks/sign.js";

const FOLDER = fileURLToPath(new URL("../../samples/integration/", import.meta.url));

describe("the page of requests", () => {
  // biome-ignore lint/suspicious/noExplicitAny: a foreign format, looked into one field at a time
  const description: any = openapiDocument([]);
  const ajv = new Ajv2020({ strict: false });
  addFormats.default(ajv);
  const requests = readFileSync(`${FOLDER}README.md`, "utf8")
    .split("\n")
    .filter((line) => line.startsWith("curl "))
    .map((line) => {
      const body = / -d '([^']+)'/.exec(line)?.[1];
      const query = [...new URLSearchParams(/"\$HEATGATE[^"?]+[?]([^"]+)"/.exec(line)?.[1]).keys()];
      const method = / -X (\w+)/.exec(line)?.[1] ?? (body || / -F /.test(line) ? "POST" : "GET");
      return { line, method: method.toLowerCase(), path: /"\$HEATGATE([^"?]+)/.exec(line)![1]!, query, body };
    });
  const operations = Object.entries<object>(description.paths).flatMap(([path, item]) =>
    Object.keys(item)
      .filter((key) => ["get", "put", "post", "patch", "delete"].includes(key))
      .map((method) => ({ method, path, pattern: new RegExp(`^${path.replace(/\{\w+\}/g, "[^/]+")}$`) })),
  );
  const operationOf = ({ method, path }: { method: string; path: string }) =>
    operations.find((operation) => operation.path === path && operation.method === method) ??
    operations.find((operation) => operation.method === method && operation.pattern.test(path));

  test.each(requests)("$method $path is described, and its query and body fit", (request) => {
    const operation = operationOf(request);
    expect(operation, request.line).toBeDefined();
    const parameters: { name: string; in: string; required?: boolean }[] =
      description.paths[operation!.path][request.method].parameters ?? [];
    const inQuery = parameters.filter((parameter) => parameter.in === "query");
    expect(inQuery.map(({ name }) => name)).toEqual(expect.arrayContaining(request.query));
    expect(request.query).toEqual(
      expect.arrayContaining(inQuery.filter(({ required }) => required).map(({ name }) => name)),
    );
    if (!request.body) return;
    const { schema } = description.paths[operation!.path][request.method].requestBody.content["application/json"];
    const isFit = ajv.compile({ ...schema, components: description.components });
    expect(isFit(JSON.parse(request.body)), JSON.stringify(isFit.errors)).toBe(true);
  });

  test("it has one for every operation", () => {
    const shown = new Set(requests.map(operationOf));
    expect(
      operations.filter((operation) => !shown.has(operation)).map(({ method, path }) => `${method} ${path}`),
    ).toEqual([]);
  });
});

describe("the receiver", () => {
  const secret = `whsec_${Buffer.from("a secret of the tests, 32 bytes.").toString("base64")}`;
  const body = JSON.stringify({ type: "submission.done", data: { submission: "s1", verdict: "fail" } });
  let child: ChildProcess;
  let printed = "";
  let url = "";

  beforeAll(async () => {
    child = spawn(process.execPath, [`${FOLDER}receiver.mjs`], {
      env: { ...process.env, WEBHOOK_SECRET: secret, PORT: "0" },
      stdio: ["ignore", "pipe", "inherit"],
    });
    const port = await new Promise<string>((resolve, reject) => {
      child.once("exit", () => reject(new Error("the receiver ended")));
      child.stdout!.on("data", (chunk: Buffer) => {
        printed += chunk.toString("utf8");
        const found = /listening on (\d+)/.exec(printed)?.[1];
        if (found) resolve(found);
      });
    });
    url = `http://127.0.0.1:${port}/`;
  });

  afterAll(() => void child.kill());

  const deliver = async (headers: Record<string, string>, text = body) =>
    (await fetch(url, { method: "POST", headers, body: text })).status;
  const signed = (id: string, at = new Date(), secrets = [secret]) => signatureHeaders(secrets, id, at, body);
  const acted = () => printed.split("submission.done").length - 1;

  test("acts once on an event, however often it is delivered", async () => {
    expect([await deliver(signed("e1")), await deliver(signed("e1"))]).toEqual([204, 204]);
    await expect.poll(acted).toBe(1);
    expect(await deliver(signed("e2"))).toBe(204);
    await expect.poll(acted).toBe(2);
  });

  test("takes an event that one of several secrets signed", async () => {
    expect(await deliver(signed("e3", new Date(), [`whsec_${btoa("an old secret, soon out of use..")}`, secret]))).toBe(
      204,
    );
    await expect.poll(acted).toBe(3);
  });

  test.each([
    ["another secret", () => signed("e4", new Date(), [`whsec_${btoa("not the secret of this receiver.")}`]), body],
    ["a time ten minutes ago", () => signed("e5", new Date(Date.now() - 600_000)), body],
    ["no signature", () => ({ "webhook-id": "e6" }), body],
    ["a body that was changed", () => signed("e7"), body.replace("fail", "pass")],
  ] as const)("refuses %s", async (_name, headers, text) => {
    const before = acted();
    expect(await deliver(headers() as Record<string, string>, text)).toBe(401);
    expect(acted()).toBe(before);
  });
});
