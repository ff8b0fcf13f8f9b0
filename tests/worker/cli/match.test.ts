import { expect, it } from "vitest";
import type { HeatMatches } from "../../../core/report/match.js";
import { runCommand } from "../../../worker/cli/run-command.js";
import { capturedTerminal } from "./captured-terminal.js";

const SAMPLE = "samples/carbon-too-high/aurenbach-a-240417.csv";

async function heatgate(...args: string[]) {
  const captured = capturedTerminal();
  const code = await runCommand(args, captured.terminal);
  return { code, stdout: captured.stdout().toString("utf8"), stderr: captured.stderr() };
}

it("says which grades a heat with 0.034 % carbon meets, and that 304L is missed by carbon alone", async () => {
  const { code, stdout } = await heatgate("match", SAMPLE, "--format", "json");
  expect(code).toBe(0);
  const [heat] = JSON.parse(stdout) as HeatMatches[];
  const grade = (id: string) => heat!.grades.find((match) => match.id === id)!;
  expect(grade("astm-a240/2007e1/s30400").outcome).toBe("pass");
  expect(grade("astm-a240/2007e1/s30403").open.map(({ quantity, outcome }) => [quantity, outcome])).toEqual([
    ["C", "fail"],
  ]);
  expect(heat!.grades[0]?.outcome).toBe("pass");
});

it("prints what is met before what is missed", async () => {
  const { stdout } = await heatgate("match", SAMPLE);
  expect(stdout.indexOf("meets:")).toBeLessThan(stdout.indexOf("misses by one limit:"));
  expect(stdout).toMatch(/misses \d+ more grades by several limits/);
});

it("wants a document and a format that it has", async () => {
  expect((await heatgate("match")).code).toBe(2);
  expect((await heatgate("match", SAMPLE, "--format", "xml")).stderr).toContain("text and json");
});
