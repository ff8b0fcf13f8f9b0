import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, expect, test } from "vitest";
import type { Comparison } from "../../core/report/compare/comparison.js";
import { runCommand } from "../../worker/cli/run-command.js";
import { capturedTerminal } from "../worker/cli/captured-terminal.js";
import { SAMPLES_FOLDER } from "./make-samples.js";

/** Worked out by hand from the laboratory's sheets. Values by title of the property, then by heat. */
interface Expected {
  readonly serviceTemperature: string;
  readonly exitCode: number;
  readonly winners: Readonly<Record<string, string>>;
  readonly meets: Readonly<Record<string, Readonly<Record<string, boolean>>>>;
  readonly means: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly neverTested: Readonly<Record<string, string>>;
}

const folder = join(SAMPLES_FOLDER, "comparison-301-304l");
let expected: Expected;
let comparison: Comparison;
let code: number;

beforeAll(async () => {
  expected = JSON.parse(await readFile(join(folder, "expected.json"), "utf8"));
  const { terminal, stdout } = capturedTerminal({ folder });
  const asked = ["-r", "requirement.json", "-t", expected.serviceTemperature, "-f", "json"];
  code = await runCommand(["compare", "*.csv", ...asked], terminal);
  comparison = JSON.parse(stdout().toString("utf8"));
}, 120_000);

function rowsByHeat<T>(value: (row: Comparison["properties"][number]["rows"][number]) => T | undefined) {
  const found = comparison.properties.map(({ title, rows }) => {
    const entries = rows.flatMap((row) => {
      const of = value(row);
      return of === undefined ? [] : [[row.material.heat, of] as const];
    });
    return [title, Object.fromEntries(entries)] as const;
  });
  return Object.fromEntries(found.filter(([, entries]) => Object.keys(entries).length > 0));
}

test("who is ahead on what", () => {
  const winners = comparison.properties.flatMap(({ title, winner: { name } }) =>
    name === undefined ? [] : [[title, name]],
  );
  expect(Object.fromEntries(winners)).toEqual(expected.winners);
  expect(code).toBe(expected.exitCode);
});

test("what the project asks for at the service temperature is met or not", () => {
  expect(rowsByHeat(({ meets }) => meets)).toEqual(expected.meets);
});

test("the means of the sets", () => {
  const means = rowsByHeat(({ atService }) =>
    atService.kind === "tested" ? Number(atService.value.toFixed(3)) : undefined,
  );
  expect(means).toMatchObject(expected.means);
});

test("a material that was never broken in impact is named", () => {
  for (const [title, name] of Object.entries(expected.neverTested)) {
    const property = comparison.properties.find((candidate) => candidate.title === title)!;
    expect(property.winner.message).toContain(`Never tested for it: ${name}.`);
  }
});
