import { utimes, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { FolderInUse, lockFolder } from "../../../worker/store/folder-lock.js";
import { temporaryFolder } from "../../support/invented.js";

let folder: Awaited<ReturnType<typeof temporaryFolder>>;
beforeEach(async () => {
  folder = await temporaryFolder();
});
afterEach(() => folder.remove());

const holder = async (host: string, pid: number, ageMs: number) => {
  const file = join(folder.path, "in-use");
  await writeFile(file, JSON.stringify({ host, pid }));
  const renewedAt = new Date(Date.now() - ageMs);
  await utimes(file, renewedAt, renewedAt);
};

test("a second holder is refused in a sentence that names the folder and the way out, until the first lets go", async () => {
  const lock = await lockFolder(folder.path);
  const refusal = await lockFolder(folder.path).catch((error) => error);
  expect(refusal).toBeInstanceOf(FolderInUse);
  expect(refusal.message).toContain(folder.path);
  expect(refusal.message).toContain("HEATGATE_DATA");
  await lock.release();
  await (await lockFolder(folder.path)).release();
});

test("two folders are two locks", async () => {
  const other = await temporaryFolder();
  const locks = [await lockFolder(folder.path), await lockFolder(other.path)];
  for (const lock of locks) await lock.release();
  await other.remove();
});

test("a process that lives on another machine is respected", async () => {
  await holder("another-machine", 1, 5_000);
  await expect(lockFolder(folder.path)).rejects.toThrow(/another-machine/);
});

test("what a killed process left behind does not stop the next one", async () => {
  await holder(hostname(), process.pid, 1_000);
  await (await lockFolder(folder.path)).release();
  await holder("another-machine", 1, 60_000);
  await (await lockFolder(folder.path)).release();
  await writeFile(join(folder.path, "in-use"), "{");
  await (await lockFolder(folder.path)).release();
});
