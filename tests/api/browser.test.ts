import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type RunningServer, startServer } from "../../api/server.js";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
let server: RunningServer;
let browser: Browser;
let key: string;
let axe: string;

beforeAll(async () => {
  api = testApi({}, { isSignedIn: false });
  server = await startServer("127.0.0.1", 0);
  server.serve(api.app);
  ({ key } = await api.keys.create({ client: "yard", name: "page", scopes: ["submit", "read", "decide"] }, "tests"));
  api.records.onCreated((record) => setTimeout(() => api.records.finish(record.id, finishedReport("fail")), 50));
  axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
  browser = await chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox"] });
});
afterAll(async () => {
  await browser.close();
  await server.stop(0);
  api.remove();
});

describe.each([
  ["a desk", { width: 1200, height: 900 }],
  ["a phone", { width: 360, height: 740 }],
])("on %s", (_device, viewport) => {
  it("an inspector signs in, hands in, sees the verdict and decides", async () => {
    const page = await openPage(viewport);
    expect(await faultsOf(page)).toEqual([]);
    await signIn(page);
    expect(await faultsOf(page)).toEqual([]);

    await page.setInputFiles("#document", {
      name: "a.csv",
      mimeType: "text/csv",
      buffer: Buffer.from(`Heat;C\nW${viewport.width};0,02\n`),
    });
    expect(await page.textContent("[data-chosen]")).toContain("a.csv (1 kB)");
    await page.getByRole("button", { name: "Hand in" }).click();
    await page.waitForSelector(".verdict.fail");
    expect(await page.textContent("section")).toContain("Carbon 0.034 % is above");

    await page.getByText("Record a decision about heat H4471").click();
    expect(await faultsOf(page)).toEqual([]);
    expect(await isWiderThanScreen(page)).toBe(false);
    await page.getByLabel("Decision").selectOption("return");
    await page.getByLabel("Decided by").fill("M. Aurland");
    await page.getByLabel("Reason").fill("Wrong grade.");
    await page.getByRole("button", { name: "Record decision" }).click();
    await page.getByText("Returned by M. Aurland").waitFor();
    await page.context().close();
  });

  it("a refusal stands beside the form, and is focused", async () => {
    const page = await openPage(viewport);
    await signIn(page);
    await page.setInputFiles("#document", { name: "a.csv", mimeType: "text/csv", buffer: Buffer.alloc(0) });
    await page.getByRole("button", { name: "Hand in" }).click();
    await page.locator("[role=alert]", { hasText: "a.csv has no bytes." }).waitFor();
    expect(await page.evaluate("document.activeElement.getAttribute('role')")).toBe("alert");
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });

  it("a document that is too large is refused before it is sent", async () => {
    const page = await openPage(viewport);
    await signIn(page);
    await page.setInputFiles("#document", { name: "b.csv", mimeType: "text/csv", buffer: Buffer.alloc(1_000_001) });
    const kept = api.records.kept.size;
    await page.getByRole("button", { name: "Hand in" }).click();
    await page.locator("[role=alert]", { hasText: "b.csv has 1.0 MB; 1.0 MB are taken." }).waitFor();
    expect(await page.textContent("#document-hint")).toContain("At most 5 at once, 1 MB each and 2 MB together.");
    expect(await page.getByRole("button", { name: "Hand in" }).isEnabled()).toBe(true);
    expect(api.records.kept.size).toBe(kept);
    await page.context().close();
  });

  it("documents that are too large together are refused beside the form while they are being sent", async () => {
    const page = await openPage(viewport);
    await signIn(page);
    const parts = ["c.csv", "d.csv", "e.csv", "f.csv"];
    const bytes = Buffer.alloc(900_000, "1");
    await page.setInputFiles(
      "#document",
      parts.map((name) => ({ name, mimeType: "text/csv", buffer: bytes })),
    );
    await page.getByRole("button", { name: "Hand in" }).click();
    await page.locator("[role=alert]", { hasText: "2000000 bytes" }).waitFor();
    await page.context().close();
  });

  it("the description of the API is readable, and can be tried", async () => {
    const page = await openPage(viewport);
    await signIn(page);
    await page.goto(`${server.url}/docs`);
    expect(await faultsOf(page)).toEqual([]);
    expect(await isWiderThanScreen(page)).toBe(false);
    await page.getByText("Try GET /v1/submissions", { exact: true }).click();
    const form = page.locator('form[data-try="/v1/submissions"]');
    await form.getByLabel("limit").fill("1");
    await form.getByRole("button").click();
    await form.locator("pre", { hasText: '"items"' }).waitFor();
    await page.context().close();
  });
});

async function openPage(viewport: { width: number; height: number }): Promise<Page> {
  // axe comes in from outside the page, which the page's own policy rightly refuses.
  const context = await browser.newContext({ viewport, bypassCSP: true });
  const page = await context.newPage();
  await page.goto(server.url, { waitUntil: "load" });
  return page;
}

async function signIn(page: Page): Promise<void> {
  await page.getByLabel("API key").fill(key);
  await page.getByRole("button", { name: "Sign in" }).click();
  await page.waitForSelector("#document");
}

/** What axe finds against WCAG 2.2 AA and its best practices. */
async function faultsOf(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe);
  return await page.evaluate(`axe.run(document).then(({ violations }) =>
    violations.map(({ id, nodes }) => id + ": " + nodes.map(({ html }) => html.slice(0, 200)).join(" | ")))`);
}

function isWiderThanScreen(page: Page): Promise<boolean> {
  return page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth");
}
