import request from "supertest";
import { afterEach, beforeEach, expect, it } from "vitest";
import { type TestApi, testApi } from "../support/test-api.js";
import { repeatDeflated, writeZip, type ZipPart } from "../worker/readers/write-zip.js";

let api: TestApi;
beforeEach(() => {
  api = testApi();
});
afterEach(() => api.remove());

const part = (name: string, content: ZipPart["content"] = `Heat;C\n${name};0,021\n`): ZipPart => ({ name, content });
const send = (parts: readonly ZipPart[], type = "application/zip") =>
  request(api.app).post("/v1/submissions").type(type).send(writeZip(parts));
const namesOf = ({ body }: { body: { documents: { name: string }[] } }) => body.documents.map(({ name }) => name);

it.each(["application/zip", "application/octet-stream", "application/x-zip-compressed"])(
  "takes a ZIP archive as its documents, sent as %s",
  async (type) => {
    const answer = await send([part("b.csv"), part("mill/a.csv")], type);
    expect(answer.status).toBe(202);
    expect(namesOf(answer)).toEqual(["b.csv", "a.csv"]);
    const document = await request(api.app).get(answer.body.documents[1].link).buffer();
    expect(document.body.toString()).toBe("Heat;C\nmill/a.csv;0,021\n");
    expect(api.documents()).toHaveLength(2);
    expect(api.uploads()).toEqual([]);
  },
);

it("takes archives among other parts, and leaves a workbook whole", async () => {
  const workbook = writeZip([part("[Content_Types].xml"), part("xl/workbook.xml")]);
  const answer = await request(api.app)
    .post("/v1/submissions")
    .attach("document", Buffer.from("Heat;C\n"), "first.csv")
    .attach("document", writeZip([part("in.csv")]), { filename: "more.zip", contentType: "application/zip" })
    .attach("document", workbook, { filename: "book.xlsx", contentType: "application/zip" });
  expect(namesOf(answer)).toEqual(["first.csv", "in.csv", "book.xlsx"]);
});

it("is larger than one document may be, if its documents are not", async () => {
  const noise = () => Array.from({ length: 90_000 }, () => Math.random().toString(36).slice(2, 8)).join("");
  const answer = await send([part("1", noise()), part("2", noise()), part("3", noise())]);
  expect(answer.status).toBe(202);
  expect(answer.body.documents.reduce((sum: number, { bytes }: { bytes: number }) => sum + bytes, 0)).toBeGreaterThan(
    1_000_000,
  );
});

it.each<[what: string, parts: readonly ZipPart[], status: number, code: string]>([
  ["nothing", [], 400, "document-missing"],
  ["an empty document", [part("a.csv", "")], 422, "document-empty"],
  ["what cannot be read", [part("a.exe", Buffer.from([0, 1, 2, 3]))], 415, "type-not-read"],
  ["a path out of its folder", [part("../a.csv")], 422, "archive-refused"],
  ["another archive", [part("a.zip", writeZip([part("a.csv")]))], 422, "archive-refused"],
  ["too many documents", ["1", "2", "3", "4", "5", "6"].map((name) => part(name)), 413, "too-many-documents"],
  ["a bomb", [part("a.csv", repeatDeflated("0".repeat(100_000), 1_000))], 413, "document-too-large"],
  ["too much together", [1, 2, 3].map((n) => part(`${n}`, "0".repeat(800_000))), 413, "request-too-large"],
])("refuses an archive with %s, and keeps nothing of it", async (_what, parts, status, code) => {
  const answer = await send([...parts]);
  expect([answer.status, answer.body.code]).toEqual([status, code]);
  expect([api.documents(), api.uploads(), api.records.kept.size]).toEqual([[], [], 0]);
});

it("names the file that is at fault", async () => {
  const answer = await send([part("good.csv"), part("inner.zip", writeZip([part("a.csv")]))]);
  expect(answer.body.errors).toEqual([{ pointer: "inner.zip", detail: "nested" }]);
});

it("refuses what is declared as an archive and is none", async () => {
  const answer = await request(api.app).post("/v1/submissions").type("application/zip").send(Buffer.from("Heat;C\n"));
  expect(answer.body.code).toBe("type-not-as-declared");
});
