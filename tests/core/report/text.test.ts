import { expect, test } from "vitest";
import type { ReportHeat } from "../../../core/report/report.js";
import { renderText } from "../../../core/report/text.js";
import { HOSTILE_NAMES } from "../../support/hostile-names.js";
import { exampleReport } from "./example-report.js";
import { namedReport } from "./named-report.js";

const text = renderText(exampleReport);

test("each heat has one line with its verdict and counts", () => {
  expect(text).toContain(
    "x FAIL  heat H4471: 2 fail, 2 undetermined, 4 pass, 1 not applicable, held to ASTM A240/A240M S30403 (304L)",
  );
  expect(text).toContain("+ PASS  heat H4473: 1 pass");
  expect(text).toContain('? UNDETERMINED  heat <script>alert("H4472")</script>: nothing judged');
});

test("what failed stands below its heat with clause and place, before what is undetermined", () => {
  const lines = text.split("\n");
  const carbon = lines.findIndex((line) => line.includes("Carbon 0.034 % is 0.004 % above"));
  expect(lines[carbon + 1]?.trim()).toBe(
    'ASTM A240/A240M (2023), Table 1; seen in 3 sources; read "0,034" in norrvik-88213.xlsx, sheet Analysis, cell C8',
  );
  expect(carbon).toBeLessThan(lines.findIndex((line) => line.includes("Chromium 18.1 %")));
});

test("what passed is counted, not listed", () => {
  expect(text).not.toContain("Mn is within its limit");
});

const unheld = (change: Partial<ReportHeat>) => {
  const heats = [{ ...exampleReport.heats[0]!, ...change }];
  return /Read, but held to no limit: .*/.exec(renderText({ ...exampleReport, heats }))?.[0];
};

test("what was read and held to no limit is named, of an impact test with its zone", () => {
  const [heat] = exampleReport.heats;
  expect(unheld({})).toBeUndefined();
  const findings = heat!.findings.filter(({ quantity }) => !/^(Mn|KV)/.test(quantity));
  expect(unheld({ findings })).toBe("Read, but held to no limit: Mn, KV (heat-affected zone).");
  const base = heat!.readings.find(({ quantity }) => quantity === "KV")!;
  const readings = [...heat!.readings, { ...base, id: 77, zone: "base" as const }];
  expect(unheld({ readings })).toBe("Read, but held to no limit: KV (base metal).");
});

test("doubts and cautions are said, and the verdict is the last line", () => {
  expect(text).toContain('Doubt: norrvik-88213.xlsx, sheet Analysis, cell E9: Under Si stands "0,4S"');
  expect(text).toContain("Caution: This report assists a competent person.");
  expect(text.trimEnd().split("\n").at(-1)).toBe(
    "Verdict: x FAIL, 3 heats (1 fail, 1 undetermined, 1 pass) against T-204 shell plate",
  );
});

test("a document can't steer the terminal or add a line", () => {
  const [first, ...others] = exampleReport.heats;
  const hostile = { ...first!, heat: "H1\u001b[2J\n+ PASS  heat H9" };
  const lines = renderText({ ...exampleReport, heats: [hostile, ...others] }).split("\n");
  expect(lines.join("")).not.toContain("\u001b");
  expect(lines[0]).toContain("heat H1\ufffd[2J + PASS heat H9: 2 fail");
});

test("colour only where it is asked for, and never instead of the word", () => {
  const coloured = renderText(exampleReport, { colour: true });
  expect(coloured).toContain("\u001b[1;31mx FAIL\u001b[0m");
  // biome-ignore lint/suspicious/noControlCharactersInRegex: taking the colours away is the point.
  expect(coloured.replace(/\u001b\[[0-9;]*m/g, "")).toBe(text);
});

test("no heat is said, not left out", () => {
  const empty = renderText({ ...exampleReport, verdict: "undetermined", heats: [] });
  expect(empty).toContain("Verdict: ? UNDETERMINED, no heat found");
});

test("limits of a grade without any value share a line, and each advice stands once a heat", () => {
  const [heat] = exampleReport.heats;
  const { id, standard, name } = heat!.grades[0]!;
  const absent = ["C", "Si", "Mn"].map((quantity) => ({
    outcome: "undetermined" as const,
    reason: "not-reported" as const,
    quantity,
    readings: [],
    limit: { id: `${id}#${quantity}`, max: "0.030", unit: "%" },
    source: { standard, known: "seen in 3 sources", verified: true },
    message: `${quantity} is not reported.`,
  }));
  const told = (findings: typeof absent) =>
    renderText({ ...exampleReport, heats: [{ ...heat!, findings }] })
      .split("\n")
      .map((line) => line.trim());
  const three = told(absent);
  const line = `? Not reported for ${standard} ${name}: C at most 0.030 %, Si at most 0.030 %, Mn at most 0.030 %.`;
  expect(three).toContain(line);
  expect(three).not.toContain("? C is not reported.");
  expect(three.filter((text) => text.startsWith("To do"))).toHaveLength(1);
  expect(told(absent.slice(0, 2))).toContain("? C is not reported.");
});

test("of many doubts of one kind the first stand for all, and their number is said", () => {
  const [document, ...others] = exampleReport.documents;
  const doubts = [1, 2, 3, 4, 5].map((line) => ({ code: "unit-missing", message: `KV ${line} has no unit.` }));
  const lines = renderText({ ...exampleReport, documents: [{ ...document!, doubts }, ...others] }).split("\n");
  expect(lines.filter((line) => line.includes("has no unit"))).toHaveLength(3);
  expect(lines.some((line) => line.includes('2 more of the kind "unit-missing"'))).toBe(true);
});

test.each(HOSTILE_NAMES)("a heat, a document and all texts about them called %j stay in their lines", (name) => {
  const lines = renderText(namedReport(name)).trimEnd().split("\n");
  expect(lines.filter((line) => /[\p{Cc}\p{Cs}\u202e\u2066]/u.test(line))).toEqual([]);
  expect(lines).toHaveLength(renderText(namedReport("A4471")).trimEnd().split("\n").length);
  expect(lines.filter((line) => line.startsWith("Verdict: "))).toHaveLength(1);
});
