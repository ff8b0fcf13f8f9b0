import { SaxesParser, type SaxesTagPlain } from "saxes";
import { expect, test } from "vitest";
import { renderJunit } from "../../../core/report/junit.js";
import { onOneLine } from "../../../core/report/printable.js";
import { HOSTILE_NAMES } from "../../support/hostile-names.js";
import { exampleReport } from "./example-report.js";
import { namedReport } from "./named-report.js";

test("the counts at every level are those of the cases", () => {
  const tags = parse(renderJunit(exampleReport));
  const [all] = tags.filter(({ name }) => name === "testsuites");
  expect(all?.attributes).toMatchObject({ tests: "11", failures: "2", errors: "3", skipped: "1" });
  expect(tags.filter(({ name }) => name === "testcase")).toHaveLength(11);
  expect(tags.filter(({ name }) => name === "failure")).toHaveLength(2);
  expect(tags.filter(({ name }) => name === "error")).toHaveLength(3);
  expect(tags.filter(({ name }) => name === "skipped")).toHaveLength(1);
  expect(tags.filter(({ name }) => name === "testsuite").map(({ attributes }) => attributes.name)).toEqual([
    "heat H4471",
    'heat <script>alert("H4472")</script>',
    "heat H4473",
  ]);
});

test("an undetermined finding is an error with its reason as type", () => {
  const errors = parse(renderJunit(exampleReport)).filter(({ name }) => name === "error");
  expect(errors.map(({ attributes }) => attributes.type)).toEqual(["low-confidence", "not-reported", "undetermined"]);
});

test("a report without a heat is not green", () => {
  const tags = parse(renderJunit({ ...exampleReport, verdict: "undetermined", heats: [] }));
  expect(tags[0]?.attributes).toMatchObject({ tests: "1", errors: "1" });
});

test("a heat whose verdict no finding explains gets a case of its own", () => {
  const heats = exampleReport.heats.slice(2).map((heat) => ({ ...heat, verdict: "undetermined" as const }));
  const tags = parse(renderJunit({ ...exampleReport, heats }));
  expect(tags.filter(({ name }) => name === "error")).toHaveLength(1);
});

test("no text breaks the XML", () => {
  const hostile = `]]>&<"'\u0000\u001b\ud800\ufffe\n`;
  const [first] = exampleReport.heats;
  const findings = first!.findings.map((finding) => ({ ...finding, message: hostile, quantity: hostile }));
  const tags = parse(renderJunit({ ...exampleReport, heats: [{ ...first!, heat: hostile, findings }] }));
  expect(tags.filter(({ name }) => name === "failure")[0]?.attributes.message).toBe(
    `]]>&<"'\ufffd\ufffd\ufffd\ufffd\n`,
  );
});

test.each(HOSTILE_NAMES)("a heat, a document and all texts about them called %j", (name) => {
  const tags = parse(renderJunit(namedReport(name)));
  expect(tags.filter((tag) => tag.name === "testsuite").map(({ attributes }) => attributes.name)).toEqual(
    Array(3).fill(onOneLine(`heat ${name}`)),
  );
  expect(new Set(tags.map((tag) => tag.name))).toEqual(
    new Set(["testsuites", "testsuite", "testcase", "failure", "error", "skipped"]),
  );
});

function parse(xml: string): readonly SaxesTagPlain[] {
  const tags: SaxesTagPlain[] = [];
  const parser = new SaxesParser();
  parser.on("opentag", (tag) => tags.push(tag));
  parser.on("error", (error) => {
    throw error;
  });
  parser.write(xml).close();
  return tags;
}
