import { createHash } from "node:crypto";
import { mkdir, mkdtemp, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { gatherDocuments } from "../../../worker/cli/gather-documents.js";
import { writeZip } from "../readers/write-zip.js";
import { capturedTerminal } from "./captured-terminal.js";

let folder: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "heatgate-gather-"));
  for (const path of ["b.csv", "a.xlsx", "more/a.xlsx", "more/c [1].csv", "more/.hidden.csv", "more/Thumbs.db"]) {
    await mkdir(dirname(join(folder, path)), { recursive: true });
    await writeFile(join(folder, path), path);
  }
});

afterEach(() => rm(folder, { recursive: true, force: true }));

async function names(...given: string[]): Promise<string[]> {
  const documents = await gatherDocuments(given, capturedTerminal({ folder }).terminal, folder);
  return documents.map(({ name }) => name);
}

test("files keep the order in which they are named", async () => {
  expect(await names("b.csv", "a.xlsx")).toEqual(["b.csv", "a.xlsx"]);
});

test("a document has the SHA-256 of its bytes", async () => {
  const [document] = await gatherDocuments(["b.csv"], capturedTerminal({ folder }).terminal, folder);
  expect(document?.sha256).toBe(createHash("sha256").update("b.csv").digest("hex"));
});

test("a folder gives its files and those below, by name, without hidden ones and litter", async () => {
  expect(await names("more")).toEqual(["a.xlsx", "c [1].csv"]);
});

test("two files of one name are told apart by their folders", async () => {
  expect(await names(".")).toEqual(["a.xlsx", "b.csv", "more/a.xlsx", "c [1].csv"]);
});

test("a pattern that the shell left alone is filled in", async () => {
  expect(await names("**/*.csv")).toEqual(["b.csv", "c [1].csv"]);
});

test("a file whose name looks like a pattern is that file", async () => {
  expect(await names("more/c [1].csv")).toEqual(["c [1].csv"]);
});

test("a file is handed in once, however often and by whatever way it is named", async () => {
  await symlink(join(folder, "b.csv"), join(folder, "link.csv"));
  expect(await names("b.csv", "./b.csv", "*.csv", "link.csv")).toEqual(["b.csv"]);
});

test("an archive stands for the documents in it, named as the service names them", async () => {
  const inside = ["mill/z.csv", "y.csv"].map((name) => ({ name, content: name }));
  await writeFile(join(folder, "lot.zip"), writeZip(inside));
  expect(await names("b.csv", "lot.zip")).toEqual(["b.csv", "z.csv", "y.csv"]);
  const [, first] = await gatherDocuments(["b.csv", "lot.zip"], capturedTerminal({ folder }).terminal, folder);
  expect(await readFile(first!.path, "utf8")).toBe("mill/z.csv");
});

test("an archive that cannot be unpacked is refused by its name", async () => {
  await writeFile(join(folder, "lot.zip"), writeZip([{ name: "../b.csv", content: "b" }]));
  await expect(names("lot.zip")).rejects.toThrow(/^lot\.zip: The archive cannot be unpacked: invalid relative path/);
});

test.each(["nothing-here", "*.pdf"])("%s that names nothing is refused", async (name) => {
  await expect(names(name)).rejects.toThrow(`there is no file, folder or match for ${name}`);
});

test("an empty folder is refused", async () => {
  await mkdir(join(folder, "empty"));
  await expect(names("empty")).rejects.toThrow("there is no file in the folder empty");
});

test("standard input becomes a document with its bytes", async () => {
  const { terminal } = capturedTerminal({ folder, input: "Heat;C\nH1;0,02\n" });
  const scratch = await mkdtemp(join(tmpdir(), "heatgate-scratch-"));
  const [document] = await gatherDocuments(["-"], terminal, scratch);
  expect(document?.name).toBe("standard input");
  expect(await readFile(document!.path, "utf8")).toBe("Heat;C\nH1;0,02\n");
  await rm(scratch, { recursive: true });
});
