import { mkdtemp, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { RESULT_FILE } from "../../../../worker/readers/process/message.js";
import { readResultFile } from "../../../../worker/readers/process/result-file.js";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "heatgate-result-"));
});
afterEach(() => rm(folder, { recursive: true }));

async function read(limitBytes: number) {
  const lines: string[] = [];
  const isWhole = await readResultFile(folder, limitBytes, (line) => lines.push(line));
  return { isWhole, lines };
}

test("lines come as they were written, long ones and those with other line ends in them too", async () => {
  const lines = ["{}", `"a\u2028b\rc\u0085${"Prüf ".repeat(40_000)}"`, "null"];
  await writeFile(join(folder, RESULT_FILE), lines.map((line) => `${line}\n`).join(""));
  expect(await read(1_000_000)).toEqual({ isWhole: true, lines });
});

test("a file that is larger than agreed is not read", async () => {
  await writeFile(join(folder, RESULT_FILE), "x".repeat(101));
  expect(await read(100)).toEqual({ isWhole: false, lines: [] });
});

test("a link is not followed", async () => {
  await writeFile(join(folder, "secret"), "secret\n");
  await symlink(join(folder, "secret"), join(folder, RESULT_FILE));
  await expect(read(100)).rejects.toThrow("ELOOP");
});
