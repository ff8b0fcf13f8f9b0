import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openWholeFile, writeWholeFile } from "../../../worker/cli/whole-file.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "heatgate-whole-file-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

test("until it is closed the file before it stands as it was", async () => {
  const path = join(folder, "report.txt");
  await writeFile(path, "the one before");
  const file = await openWholeFile(path);
  await file.write("first\n");
  expect(await readFile(path, "utf8")).toBe("the one before");
  await file.write("second\n");
  await file.close();
  expect(await readFile(path, "utf8")).toBe("first\nsecond\n");
  await file.discard();
  expect(await readdir(folder)).toEqual(["report.txt"]);
});

test("what is discarded leaves nothing behind", async () => {
  const file = await openWholeFile(join(folder, "half.txt"));
  await file.write("half");
  await file.discard();
  expect(await readdir(folder)).toEqual(["report.txt"]);
});

test("a place that cannot be written to is named", async () => {
  await expect(writeWholeFile(join(folder, "no-such-folder", "report.txt"), "text")).rejects.toThrow(
    /no-such-folder.report\.txt can't be written/,
  );
});
