import express, { type RequestHandler } from "express";
import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openapiDocument } from "../../api/openapi/document.js";
import { checkAnswers } from "../support/check-answers.js";
import { type TestApi, testApi } from "../support/test-api.js";

const DOCUMENT = openapiDocument([], { closed: true });

let api: TestApi;
beforeEach(() => {
  api = testApi();
});
afterEach(() => api.remove());

describe("the OpenAPI document", () => {
  it("is served, and leaves answers open for fields to come", async () => {
    const { body } = await request(api.app).get("/v1/openapi.json");
    expect(body.openapi).toBe("3.1.0");
    expect(body.components.schemas.Submission.additionalProperties).toBeUndefined();
  });

  it("knows every operation by a name of its own and every path parameter", async () => {
    const { body } = await request(api.app).get("/v1/openapi.json");
    for (const [path, operations] of Object.entries<Record<string, { parameters?: { name: string; in: string }[] }>>(
      body.paths,
    )) {
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map((match) => match[1]);
      for (const { parameters } of Object.values(operations)) {
        expect((parameters ?? []).filter((parameter) => parameter.in === "path").map(({ name }) => name)).toEqual(
          inPath,
        );
      }
    }
  });
});

describe("the check that all our tests go through", () => {
  const complaints = async (path: string, answer: RequestHandler) => {
    const heard: string[] = [];
    const app = express().use(checkAnswers(DOCUMENT, (what) => heard.push(what)));
    await request(app.use(answer)).get(path);
    return heard.join();
  };

  it.each<[what: string, answer: RequestHandler, complaint: RegExp]>([
    ["a status", (_, response) => void response.status(418).json({}), /not a documented status/],
    ["a media type", (_, response) => void response.send("pass"), /not documented as text\/html/],
    ["a value", (_, response) => void response.json({ status: "fail" }), /must be equal to constant/],
    ["a field", (_, response) => void response.json({ status: "pass", secret: 1 }), /additional properties/],
  ])("hears of %s that is not in the document", async (_what, answer, complaint) => {
    expect(await complaints("/livez", answer)).toMatch(complaint);
  });

  it("hears of an answer at an address that is not in the document", async () => {
    expect(await complaints("/hidden", (_, response) => void response.json({}))).toMatch(/no problem but/);
  });

  it("has nothing to say about what is documented", async () => {
    expect(await complaints("/livez", (_, response) => void response.json({ status: "pass" }))).toBe("");
  });
});
