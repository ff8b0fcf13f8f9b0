import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { readRequirement } from "../../../worker/cli/read-requirement.js";
import { capturedTerminal } from "./captured-terminal.js";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "heatgate-requirement-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

async function read(text: string) {
  await writeFile(join(folder, "r.json"), text);
  return readRequirement("r.json", capturedTerminal({ folder }).terminal);
}

test("a requirement is read, with or without a byte order mark", async () => {
  const text = JSON.stringify({ requirement: 1, name: "T-204" });
  expect(await read(text)).toEqual({ requirement: 1, name: "T-204" });
  expect(await read(`\ufeff${text}`)).toEqual({ requirement: 1, name: "T-204" });
});

test("it may come from standard input", async () => {
  const { terminal } = capturedTerminal({ input: '{"requirement":1,"name":"T-204"}' });
  expect(await readRequirement("-", terminal)).toEqual({ requirement: 1, name: "T-204" });
});

test("text that is no JSON is named as such", async () => {
  await expect(read("{")).rejects.toThrow("the requirement r.json is not JSON");
});

test("a name that stands twice is refused, for only the last of them would be held", async () => {
  const text = '{"requirement":1,"name":"T-204","limits":[{"quantity":"C","max":"0.025","max":"0.08","unit":"%"}]}';
  await expect(read(text)).rejects.toThrow("/limits/0/max: stands there twice; leave one out");
});

test("every fault is listed with its place", async () => {
  const limits = [
    { quantity: "C", max: 0.03, unit: "%" },
    { quantity: "Xx", max: "1", unit: "%" },
  ];
  const message = await read(JSON.stringify({ requirement: 1, name: "T-204", limits, colour: "red" })).catch(
    (error: Error) => error.message,
  );
  expect(message).toContain("/limits/0/max: ");
  expect(message).toContain("/limits/1/quantity: ");
  expect(message).toContain("colour");
});
