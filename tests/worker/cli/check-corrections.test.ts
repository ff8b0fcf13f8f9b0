import { execFile } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Report } from "../../../core/report/report.js";
import { runCommand } from "../../../worker/cli/run-command.js";
import { capturedTerminal } from "./captured-terminal.js";

const run = promisify(execFile);
const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
/** Its one fault is carbon 0,034 in line 13, column 2. */
const CERTIFICATE = join(ROOT, "samples/carbon-too-high/aurenbach-a-240417.csv");
const CARBON = { line: 13, column: 2 };

let folder: string;
let sha256: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "heatgate-corrections-"));
  sha256 = createHash("sha256")
    .update(await readFile(CERTIFICATE))
    .digest("hex");
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function heatgate(args: readonly string[], input = "") {
  const captured = capturedTerminal({ folder, input });
  const code = await runCommand(["check", ...args], captured.terminal);
  return { code, stdout: captured.stdout().toString("utf8"), stderr: captured.stderr() };
}

/** The command as a process, as a pipeline runs it. */
async function heatgateProcess(args: readonly string[]) {
  const entry = ["--import", import.meta.resolve("tsx"), join(ROOT, "worker/cli/main.ts")];
  const ended = await run(process.execPath, [...entry, "check", ...args], { cwd: folder }).then(
    (output) => ({ ...output, code: 0 }),
    (error: { code: number; stdout: string; stderr: string }) => error,
  );
  return { code: ended.code, stdout: ended.stdout, stderr: ended.stderr };
}

async function file(items: readonly object[], more: object = {}): Promise<string> {
  const corrections = { corrections: 1, by: "M. Ostergaard", date: "2026-03-09", items, ...more };
  await writeFile(join(folder, "corrections.json"), JSON.stringify(corrections));
  return "corrections.json";
}

test("a corrected value is judged, and both values and the person stay visible", async () => {
  const corrections = await file([{ document: sha256, evidence: CARBON, quantity: "C", value: "0.024" }]);
  const { code, stdout, stderr } = await heatgateProcess([
    CERTIFICATE,
    "--corrections",
    corrections,
    "--format",
    "json",
  ]);
  const report = JSON.parse(stdout) as Report;
  expect([code, report.verdict]).toEqual([0, "pass"]);
  expect(stderr).not.toContain("not applied");
  expect(report.corrections).toEqual({ by: "M. Ostergaard", date: "2026-03-09", items: 1 });
  const carbon = report.heats[0]!.readings.find(({ quantity }) => quantity === "C");
  expect(carbon).toMatchObject({ printed: "0,034", value: "0.024" });
  expect(carbon!.notes).toContain('corrected from "0,034" to 0.024 by M. Ostergaard on 2026-03-09');
});

test("corrections may come from standard input, and the terminal says who corrected", async () => {
  await file([{ document: sha256, evidence: CARBON, quantity: "C" }]);
  const { code, stdout } = await heatgate(
    [CERTIFICATE, "-c", "-"],
    await readFile(join(folder, "corrections.json"), "utf8"),
  );
  expect(code).toBe(1);
  expect(stdout).toContain("Corrected: 1 reading confirmed or corrected by M. Ostergaard, 2026-03-09");
});

test("a place where nothing was read is said, on standard error too, and that quantity does not pass", async () => {
  const items = [
    { document: sha256, evidence: CARBON, quantity: "C", value: "0.024" },
    { document: sha256, evidence: { line: 99, column: 2 }, quantity: "Mn", value: "2.4" },
  ];
  const { code, stdout, stderr } = await heatgate([CERTIFICATE, "-c", await file(items)]);
  expect(code).toBe(3);
  expect(stderr).toContain("line 99, column 2: The correction of Mn at line 99, column 2 was not applied");
  expect(stdout).toContain("Doubt: aurenbach-a-240417.csv, line 99, column 2: The correction of Mn");
});

test("what was said of a document that cannot be read is said, not dropped", async () => {
  const bytes = Buffer.from("%PDF-1.7 and no end");
  await writeFile(join(folder, "half.pdf"), bytes);
  const half = createHash("sha256").update(bytes).digest("hex");
  const corrections = await file([{ document: half, evidence: { page: 1, box: [1, 2, 3, 4] }, quantity: "C" }]);
  const { code, stderr } = await heatgate(["half.pdf", "-c", corrections]);
  expect(code).toBe(3);
  expect(stderr).toContain(
    "half.pdf, page 1: The correction of C at page 1 was not applied: the document could not be read.",
  );
});

test("a document that is not handed in is a usage error that names it and lists those that are", async () => {
  const items = [
    { document: sha256, evidence: CARBON, quantity: "C" },
    { document: "0".repeat(64), evidence: CARBON, quantity: "C" },
  ];
  const { code, stdout, stderr } = await heatgate([CERTIFICATE, "-c", await file(items)]);
  expect([code, stdout]).toEqual([2, ""]);
  expect(stderr).toContain("/items/1/document: is the SHA-256 of no document that is handed in");
  expect(stderr).not.toContain("/items/0/document");
  expect(stderr).toContain(`${sha256}  aurenbach-a-240417.csv`);
});

test("every fault of the file is a usage error with its JSON pointer and what to do", async () => {
  const corrections = await file(
    [
      { document: "ABC", evidence: { document: 0, ...CARBON }, quantity: "C" },
      { document: sha256, evidence: CARBON, quantity: "Carbon", value: 0.024 },
      { document: sha256, evidence: { page: 1 }, quantity: "C", unit: "furlong" },
    ],
    { date: "9 March", by: "" },
  );
  const { code, stdout, stderr } = await heatgateProcess([CERTIFICATE, "-c", corrections]);
  expect([code, stdout]).toEqual([2, ""]);
  for (const line of [
    "/by: is empty: name the person who looked at the document",
    "/date: is not a date; write it as 2026-03-09",
    "/items/0/document: is not a SHA-256; copy it from the document in the report",
    "/items/0/evidence/document: is not a known name here; leave it out",
    '/items/2/evidence: is not a place: copy the reading\'s evidence from the JSON report without its "document"',
    '/items/1/quantity: is not a quantity, and not "heat"; use the symbols of the report, such as C or Rp0.2',
    '/items/1/value: is not text; write the number in quotes, because its digits count: "0.024"',
    "/items/2/unit: is not a known unit",
  ]) {
    expect(stderr).toContain(line);
  }
});

test.each([
  ["no such file", "missing.json", "the corrections missing.json can't be read"],
  ["no JSON", "broken.json", "the corrections broken.json is not JSON"],
])("%s is a usage error", async (_, name, message) => {
  await writeFile(join(folder, "broken.json"), "{");
  const { code, stderr } = await heatgate([CERTIFICATE, "-c", name]);
  expect(code).toBe(2);
  expect(stderr).toContain(message);
});
