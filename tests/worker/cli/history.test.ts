import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { runCommand } from "../../../worker/cli/run-command.js";
import { capturedTerminal } from "./captured-terminal.js";

let folder: string;
/** Nine invented heats of 304L, a week apart; the last is far richer in carbon than the mill's others, and within the limit. */
const CARBON = ["018", "019", "018", "020", "019", "018", "019", "020", "028"];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "heatgate-history-test-"));
  for (const [index, carbon] of CARBON.entries()) {
    const date = `2026-0${1 + Math.floor(index / 4)}-${10 + 5 * (index % 4)}`;
    const lines = [
      "Manufacturer,Norrvik Stainless,,",
      "Inspection certificate 3.1 according to EN 10204,,,",
      `Certificate No.,NS-9000${index},Date,${date}`,
      "Specification,ASTM A240/A240M Type 304L,,",
      ",,,",
      '"Heat analysis, %",,,',
      "Heat No.,C,Si,Mn",
      `N5000${index},0.${carbon},0.40,1.50`,
    ];
    await writeFile(join(folder, `${index}.csv`), `${lines.join("\n")}\n`);
  }
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function run(...args: string[]) {
  const captured = capturedTerminal({ folder });
  const code = await runCommand(["history", ...args], captured.terminal);
  return { code, stdout: captured.stdout().toString("utf8"), stderr: captured.stderr() };
}

test("certificates of one mill in the order of their dates; the heat that drifted is named", async () => {
  const { code, stdout } = await run(".", "--base", "8", "--format", "json");
  expect(code).toBe(0);
  const [series] = JSON.parse(stdout).series;
  expect(series).toMatchObject({ mill: "Norrvik Stainless", quantity: "C", limits: { fromHeats: 8 } });
  expect(series.points.map(({ value }: { value: string }) => value)).toEqual(CARBON.map((digits) => `0.${digits}`));
  expect(series.points.at(-1)).toMatchObject({ heat: "N50008", date: "2026-03-10", signal: "beyond-limit" });
  expect(series.required).toEqual({ max: "0.030" });
});

test("as text and as a page", async () => {
  expect((await run(".", "-b", "8")).stdout).toContain("Look into: N50008 outside the control limits.");
  expect((await run(".", "-f", "html")).stdout).toContain("<svg");
});

test.each([
  [[], "name at least one document"],
  [[".", "--base", "none"], "no number of heats"],
  [[".", "--format", "pdf"], "there is no format"],
])("%j is refused", async (args, message) => {
  const { code, stderr } = await run(...args);
  expect(code).toBe(2);
  expect(stderr).toContain(message);
});
