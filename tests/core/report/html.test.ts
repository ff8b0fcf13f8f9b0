import fc from "fast-check";
import { expect, test } from "vitest";
import { html, htmlText } from "../../../core/report/html/template.js";
import { renderHtml } from "../../../core/report/html.js";
import { showUnprintable } from "../../../core/report/printable.js";
import { HOSTILE_NAMES } from "../../support/hostile-names.js";
import { exampleReport } from "./example-report.js";
import { namedReport } from "./named-report.js";

const page = renderHtml(exampleReport, "ab".repeat(32));
const text = page.replace(/<style>.*?<\/style>/s, "").replace(/<[^>]*>/g, " ");

test("the verdict comes first, as word and symbol", () => {
  const body = page.slice(page.indexOf("<body>"));
  expect(body.indexOf("<h1>Fail</h1>")).toBeGreaterThan(0);
  expect(body.indexOf("<h1>Fail</h1>")).toBeLessThan(body.indexOf("<table"));
  expect(body.indexOf('<svg class="symbol fail"')).toBeLessThan(body.indexOf("<h1>"));
});

test("what failed comes before what is undetermined, and both before the tables", () => {
  const order = ["What failed", "What is undetermined", "all findings and readings", "Readings of heat", "Documents"];
  const positions = order.map((words) => text.indexOf(words));
  expect(positions).toEqual([...positions].sort((left, right) => left - right));
  expect(positions).not.toContain(-1);
});

test("what was read and held to no limit is said beside what the heat was held to", () => {
  const [heat] = exampleReport.heats;
  const findings = heat!.findings.filter(({ quantity }) => quantity !== "Mn");
  const unheld = renderHtml({ ...exampleReport, heats: [{ ...heat!, findings }] }, "ab".repeat(32));
  expect(unheld).toContain("<dt>Not judged</dt><dd>Mn: read, but held to no limit</dd>");
  expect(page).not.toContain("Not judged");
});

test("every finding, reading, document, doubt, grade file and caution is in it", () => {
  const shown = decoded(text);
  for (const { heat, findings, readings } of exampleReport.heats) {
    expect(shown).toContain(heat);
    for (const finding of findings) {
      if (finding.outcome !== "pass" && finding.outcome !== "not-applicable") expect(shown).toContain(finding.message);
      expect(shown).toContain(finding.source.known);
    }
    for (const { printed } of readings) expect(shown).toContain(printed);
  }
  for (const { name, sha256, doubts } of exampleReport.documents) {
    expect(shown).toContain(name);
    expect(shown).toContain(sha256);
    for (const doubt of doubts) expect(shown).toContain(doubt.message);
  }
  for (const { id, digest } of exampleReport.library) {
    expect(shown).toContain(id);
    expect(shown).toContain(digest);
  }
  for (const caution of exampleReport.cautions) expect(shown).toContain(caution);
});

test("an unverified limit is marked where it is used and counted in the sentence about what passed", () => {
  expect(page).toContain('<span class="unverified">from memory, not verified</span>');
  expect(text).toContain("1 passed by a limit that is not verified");
});

test("heats that need a person come first, whatever their place in the documents", () => {
  const shown = renderHtml({ ...exampleReport, heats: [...exampleReport.heats].reverse() });
  expect(shown.indexOf(">Heat H4471 ")).toBeGreaterThan(0);
  expect(shown.indexOf(">Heat H4471 ")).toBeLessThan(shown.indexOf(">Heat H4473 "));
});

test("what to do stands beside what is undetermined", () => {
  expect(text).toContain("Ask the mill or the laboratory for the missing value");
  expect(text).toContain("Compare the value with the document at the place named");
});

test("what is only for information comes after the readings of its heat, with its range and remarks", () => {
  const shown = decoded(text);
  expect(shown.indexOf("For information: nothing of this is part of the verdict")).toBeGreaterThan(
    shown.indexOf("Readings of heat H4471"),
  );
  for (const words of ["at least 17.9", "Cr + 3.3 Mo + 16 N", "Not reported: Mo.", "sensitises sooner", "C 0.034 %"]) {
    expect(shown).toContain(words);
  }
});

test("a document that could not be read stands with the verdict, before the heats", () => {
  const doubts = [{ code: "empty-file", message: "The file is empty." }];
  const unread = { name: "empty.csv", sha256: "0".repeat(64), reader: "none", doubts };
  const shown = renderHtml({ ...exampleReport, documents: [...exampleReport.documents, unread] });
  expect(shown.indexOf("What could not be read")).toBeGreaterThan(0);
  expect(shown.indexOf("The file is empty.")).toBeLessThan(shown.indexOf("Heat H4471"));
  expect(page).not.toContain("What could not be read");
});

test("who corrected readings stands with the verdict", () => {
  const shown = decoded(text);
  expect(shown).toContain("1 reading confirmed or corrected by A. Lindqvist, 2026-04-03");
  expect(shown.indexOf("A. Lindqvist")).toBeLessThan(shown.indexOf("What failed"));
});

test("pictures carry their words, and none is drawn where there is nothing to draw", () => {
  expect(page.match(/<div class="picture" role="group"/g)).toHaveLength(2);
  expect(text).toContain("Impact: heat H4471");
  expect(text).toContain("Chemistry between its limits: heat H4471");
  expect(renderHtml({ ...exampleReport, heats: [exampleReport.heats[1]!] })).not.toContain('class="picture"');
});

test("impact findings are grouped by zone, also where nothing was read", () => {
  expect(text).toContain("Impact, weld");
  expect(text).toContain("Impact, heat-affected zone");
});

test("tables have captions and scopes, and the page has a language", () => {
  expect(page).toContain('<html lang="en">');
  const tables = page.match(/<table.*?<\/table>/gs)!;
  for (const table of tables) {
    expect(table).toMatch(/<caption>.+<\/caption>/);
    expect(table).toContain('scope="col"');
    expect(table).toContain('scope="row"');
  }
});

test("ids are unique and every link leads to one", () => {
  const ids = [...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const [, target] of page.matchAll(/href="#([^"]+)"/g)) expect(ids).toContain(target);
});

test("the page loads nothing and runs nothing", () => {
  const withoutNamespace = page.replaceAll('xmlns="http://www.w3.org/2000/svg"', "");
  expect(withoutNamespace).not.toMatch(/<script|<link|<img|<iframe|https?:|url\(|@import/i);
});

test("the same report gives the same bytes", () => {
  expect(renderHtml(structuredClone(exampleReport), "ab".repeat(32))).toBe(page);
});

test("a digest that is no digest does not reach the style sheet", () => {
  expect(renderHtml(exampleReport, '"; } </style><b>')).not.toContain("</style><b>");
});

test("no text leaves its place in the markup", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), (anything) => {
      const piece = htmlText(html`<p title="${anything}">${anything}</p>`);
      expect(piece.match(/[<>"]/g)).toHaveLength(6);
      expect(decoded(piece.slice(piece.indexOf(">") + 1, -4))).toBe(showUnprintable(anything));
    }),
  );
});

test.each([
  ["control character", "H\u00004471"],
  ["escape character", "H\u001b[31m"],
  ["half a pair", "H\ud8004471"],
  ["right-to-left override", "H\u202e1744"],
  ["isolate", "\u2067H4471\u2069"],
])("a %s is shown as something that stood there", (_, heat) => {
  expect(showUnprintable(heat)).toContain("\ufffd");
});

test.each(HOSTILE_NAMES)(
  "a heat, a document and all texts about them called %j bring no tag and no attribute",
  (name) => {
    expect(markupOf(renderHtml(namedReport(name))).filter((one) => !markupOf(page).includes(one))).toEqual([]);
  },
);

/** Names of tags and of their attributes, each once. */
function markupOf(markup: string): string[] {
  const names = [...markup.matchAll(/<\/?([a-z!][^\s>]*)((?:\s+[^\s=>]+(?:="[^"]*")?)*)\s*\/?>/gi)].flatMap(
    ([, tag, rest]) => [
      tag!,
      ...[...rest!.matchAll(/([^\s=]+)(?:="[^"]*")?/g)].map(([, attribute]) => `${tag} ${attribute}`),
    ],
  );
  return [...new Set(names)];
}

test("JSON can't pose as markup", () => {
  const forged = JSON.parse('{"markup":"<b>","text":"<b>"}');
  expect(htmlText(html`${forged}`)).not.toContain("<b>");
});

function decoded(markup: string): string {
  return markup
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&");
}
