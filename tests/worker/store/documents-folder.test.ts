import { existsSync } from "node:fs";
import { readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { openDocumentsFolder } from "../../../worker/store/documents-folder.js";
import { sha256, temporaryFolder } from "../../support/invented.js";

let folder: Awaited<ReturnType<typeof temporaryFolder>>;
beforeEach(async () => {
  folder = await temporaryFolder();
});
afterEach(() => folder.remove());

test("bytes come back as they were put, from a name that is their hash, and the upload is left to its owner", async () => {
  const documents = openDocumentsFolder(join(folder.path, "documents"));
  const upload = join(folder.path, "upload");
  await writeFile(upload, "bytes");
  await documents.put(sha256("bytes"), upload);
  await rm(upload);
  expect(Buffer.from(await documents.get(sha256("bytes"))).toString()).toBe("bytes");
  const { path, release } = await documents.checkOut(sha256("bytes"));
  expect(await readFile(path, "utf8")).toBe("bytes");
  await release();
  expect(existsSync(path)).toBe(true);
});

test("the same bytes at the same time are kept once, with nothing left beside them", async () => {
  const root = join(folder.path, "documents");
  const documents = openDocumentsFolder(root);
  const uploads = [1, 2, 3, 4].map((number) => join(folder.path, `upload-${number}`));
  for (const upload of uploads) await writeFile(upload, "same");
  await Promise.all(uploads.map((upload) => documents.put(sha256("same"), upload)));
  const [shelf] = await readdir(root);
  expect(await readdir(join(root, shelf!))).toEqual([sha256("same")]);
});

test("removed bytes are gone, once or twice, and can be put again", async () => {
  const documents = openDocumentsFolder(join(folder.path, "documents"));
  const upload = join(folder.path, "upload");
  await writeFile(upload, "bytes");
  await documents.remove(sha256("bytes"));
  await documents.put(sha256("bytes"), upload);
  await documents.remove(sha256("bytes"));
  await documents.remove(sha256("bytes"));
  await expect(documents.get(sha256("bytes"))).rejects.toThrow(/ENOENT/);
  await documents.put(sha256("bytes"), upload);
  expect(Buffer.from(await documents.get(sha256("bytes"))).toString()).toBe("bytes");
});

test("a name that is no hash reaches no file", async () => {
  const documents = openDocumentsFolder(folder.path);
  for (const name of ["../../etc/passwd", "", `${"a".repeat(63)}G`]) {
    await expect(documents.get(name)).rejects.toThrow(/64 hexadecimal/);
    await expect(documents.remove(name)).rejects.toThrow(/64 hexadecimal/);
  }
});

test("the check says when nothing can be stored", async () => {
  const root = join(folder.path, "documents");
  const documents = openDocumentsFolder(root);
  await documents.check();
  expect(await readdir(root)).toEqual([]);
  await rm(root, { recursive: true });
  await writeFile(root, "a file where the folder should be");
  await expect(documents.check()).rejects.toThrow();
});
