import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
let cookie: string;

beforeEach(async () => {
  api = testApi();
  const { key } = await api.keys.create(
    { client: "tarnholm", name: "page", scopes: ["submit", "read", "decide"] },
    "tests",
  );
  cookie = `heatgate_key=${key}`;
});
afterEach(() => {
  expect(api.uploads()).toEqual([]);
  api.remove();
});

const BROWSER = { Accept: "text/html,*/*;q=0.8", Authorization: "" };
const get = (path: string) =>
  request(api.app)
    .get(path)
    .set({ ...BROWSER, Cookie: cookie });
const post = (path: string) =>
  request(api.app)
    .post(path)
    .set({ ...BROWSER, Cookie: cookie, "Sec-Fetch-Site": "same-origin" });

describe("signing in", () => {
  it("is what a browser without a key is shown", async () => {
    const response = await request(api.app).get("/").set(BROWSER);
    expect(response.status).toBe(401);
    expect(response.text).toContain("<h1>Sign in</h1>");
  });

  it("keeps the key where no script reads it and no other site sends it", async () => {
    const { key } = await api.keys.create({ client: "yard", name: "a", scopes: ["read"] }, "tests");
    const response = await post("/session").type("form").send({ key });
    expect(response.status).toBe(303);
    expect(response.headers["set-cookie"]?.[0]).toMatch(/^heatgate_key=hg_live_.*HttpOnly; SameSite=Strict$/);
  });

  it("over https keeps it from plain http as well", async () => {
    api.remove();
    api = testApi({ publicUrl: "https://heatgate.example" });
    const { key } = await api.keys.create({ client: "yard", name: "a", scopes: ["read"] }, "tests");
    const response = await post("/session").type("form").send({ key });
    expect(response.headers["set-cookie"]?.[0]).toMatch(
      /^__Host-heatgate_key=hg_live_.*; Path=\/.*; HttpOnly; Secure; SameSite=Strict$/,
    );
    expect(response.headers["strict-transport-security"]).toBe("max-age=31536000");
    expect(
      (
        await request(api.app)
          .get("/")
          .set({ ...BROWSER, Cookie: `__Host-heatgate_key=${key}` })
      ).status,
    ).toBe(200);
    const ended = await post("/session/end");
    expect(ended.headers["set-cookie"]?.[0]).toMatch(/^__Host-heatgate_key=;.*; Secure/);
  });

  it("over https takes no cookie that another host under the domain could have put in", async () => {
    api.remove();
    api = testApi({ publicUrl: "https://heatgate.example" });
    const { key } = await api.keys.create({ client: "yard", name: "a", scopes: ["read"] }, "tests");
    expect(
      (
        await request(api.app)
          .get("/")
          .set({ ...BROWSER, Cookie: `heatgate_key=${key}` })
      ).status,
    ).toBe(401);
    const wrong = await request(api.app)
      .get("/")
      .set({ ...BROWSER, Cookie: "__Host-heatgate_key=hg_live_wrong" });
    expect(wrong.headers["set-cookie"]?.[0]).toMatch(/^__Host-heatgate_key=;.*; Secure/);
  });

  it("with a wrong key says so", async () => {
    const response = await post("/session").type("form").send({ key: "hg_live_wrong" });
    expect(response.status).toBe(401);
    expect(response.text).toContain("The API key is not valid");
  });

  it("from another site's page is refused", async () => {
    const headers = { ...BROWSER, Origin: "https://elsewhere.example" };
    const response = await request(api.app).post("/session").set(headers).type("form").send({ key: "a" });
    expect(response.status).toBe(403);
  });

  it("ends by taking the cookie away", async () => {
    const response = await post("/session/end");
    expect(response.headers["set-cookie"]?.[0]).toMatch(/^heatgate_key=;/);
  });
});

describe("handing in by the form, without any script", () => {
  const handIn = () =>
    post("/submissions")
      .attach("document", Buffer.from("Heat;C"), "a<b>.csv")
      .field("requirement", "")
      .field("tag.order", "4500012")
      .field("tag.supplier", "");

  it("leads to the submission's page, which waits and then shows the result", async () => {
    const accepted = await handIn();
    expect(accepted.status).toBe(303);
    const path = accepted.headers.location as string;
    const waiting = await get(path);
    expect(waiting.text).toContain('<meta http-equiv="refresh"');
    expect(waiting.text).toContain("Order 4500012: a&lt;b&gt;.csv");

    const id = path.split("/").at(-1)!;
    await api.records.finish(id, finishedReport("fail"));
    const done = await get(path);
    expect(done.text).toContain("Carbon 0.034 % is above the 0.030 % ceiling.");
    expect(done.text).toContain(`/v1/submissions/${id}/report?format=html`);
    expect((await get("/")).text).toContain(path);
    expect(api.records.kept.get(id)?.record.tags).toEqual({ order: "4500012" });
  });

  it("refused shows why and what to do, as a page", async () => {
    const response = await post("/submissions").attach("document", Buffer.alloc(0), "a.csv");
    expect(response.status).toBe(422);
    expect(response.headers["content-type"]).toContain("text/html");
    expect(response.text).toContain("a.csv has no bytes.");
  });

  it("refused to a program is a problem as everywhere", async () => {
    const response = await post("/submissions").set("Accept", "application/json").type("text/csv").send("");
    expect(response.body.code).toBe("document-empty");
  });

  it("is not offered to a key that may only look", async () => {
    const { key } = await api.keys.create({ client: "yard", name: "a", scopes: ["read"] }, "tests");
    const response = await get("/").set("Cookie", `heatgate_key=${key}`);
    expect(response.text).not.toContain('<form method="post" action="/submissions"');
  });
});

describe("the page of a delivery with many heats", () => {
  const pageOf = async (requirement: string) => {
    const { body } = await request(api.app)
      .post("/v1/submissions")
      .attach("document", Buffer.from("Heat;C"), "a.csv")
      .field("requirement", requirement);
    const heats = (["pass", "undetermined", "fail", "pass"] as const).map((verdict, index) => ({
      heat: `H${index}`,
      verdict,
      grades: [],
      readings: [],
      findings: [],
    }));
    const report = { ...JSON.parse(finishedReport("fail").json), heats };
    await api.records.finish(body.id, { ...finishedReport("fail"), json: JSON.stringify(report) });
    return (await get(`/submissions/${body.id}`)).text;
  };

  it("counts them, and begins with those that need a person", async () => {
    const text = await pageOf("");
    expect(text).toContain("4 heats: 1 fail, 1 undetermined, 2 pass.");
    const headings = [...text.matchAll(/<h2>Heat (H\d)/g)].map((match) => match[1]);
    expect(headings).toEqual(["H2", "H1", "H0", "H3"]);
    const jumps = [...text.matchAll(/<a href="#(heat-[^"]+)">/g)].map((match) => match[1]);
    expect(jumps).toHaveLength(2);
    for (const id of jumps) expect(text).toContain(`<section class="heat" id="${id}"`);
  });

  it("says what they were held to, and that it was nothing of one's own", async () => {
    expect(await pageOf('{"requirement":1,"name":"T-204 <shell>"}')).toContain(
      "Held to <strong>T-204 &lt;shell&gt;</strong>",
    );
    expect(await pageOf("")).toContain("no requirement was chosen");
  });

  it("decides nothing by itself: what was not chosen is not recorded", async () => {
    const text = await pageOf("");
    expect(text).toMatch(/<select[^>]* required>\s*<option value="">/);
  });
});

describe("deciding by the form", () => {
  it("puts the decision on the page", async () => {
    const { body } = await request(api.app).post("/v1/submissions").type("text/csv").send("Heat;C");
    await api.records.finish(body.id, finishedReport("fail"));
    const path = `/submissions/${body.id}`;
    const decided = await post(`${path}/decisions`)
      .type("form")
      .send({ heat: "H4471", action: "return", person: "M. <Aurland>", reason: "Wrong grade.", reference: "" });
    expect(decided.status).toBe(303);
    const page = await get(path);
    expect(page.text).toContain("<strong>Returned</strong> by M. &lt;Aurland&gt;");
  });
});

it("no answer lets itself be framed, based, sniffed or sent to, page or not", async () => {
  for (const path of ["/", "/docs", "/v1/keys", "/v1/nothing", "/livez"]) {
    const { headers } = await get(path);
    for (const part of ["default-src 'none'", "base-uri 'none'", "form-action", "frame-ancestors 'none'"]) {
      expect(headers["content-security-policy"]).toContain(part);
    }
    expect(headers).toMatchObject({
      "cross-origin-opener-policy": "same-origin",
      "cross-origin-resource-policy": "same-origin",
      "referrer-policy": "no-referrer",
      "x-content-type-options": "nosniff",
      "x-frame-options": "DENY",
    });
    expect(headers["strict-transport-security"]).toBeUndefined();
  }
});

it("every page may load its own style and script, and nothing else", async () => {
  const response = await get("/");
  expect(response.headers["content-security-policy"]).toContain("default-src 'none'");
  expect(response.headers["content-security-policy"]).not.toContain("unsafe");
  expect((await get("/page.css")).headers["content-type"]).toContain("text/css");
  expect((await get("/page.js")).headers["content-type"]).toContain("text/javascript");
});
