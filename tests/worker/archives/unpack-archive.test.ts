import { mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { ArchiveRefused, isArchive, unpackArchive } from "../../../worker/archives/unpack-archive.js";
import { sha256, temporaryFolder } from "../../support/invented.js";
import { repeatDeflated, writeZip, type ZipPart } from "../readers/write-zip.js";

const LIMITS = { entries: 4, entryBytes: 10_000, totalBytes: 15_000 };

let folder: Awaited<ReturnType<typeof temporaryFolder>>;
beforeEach(async () => {
  folder = await temporaryFolder();
});
afterEach(() => folder.remove());

async function archive(bytes: Buffer): Promise<string> {
  const path = join(folder.path, "given.zip");
  await writeFile(path, bytes);
  return path;
}
const unpack = async (parts: readonly ZipPart[], change = (bytes: Buffer) => bytes) => {
  const into = await mkdtemp(join(folder.path, "into-"));
  return await unpackArchive(await archive(change(writeZip(parts))), into, LIMITS);
};
const refusal = (unpacking: Promise<unknown>) =>
  unpacking.then(
    () => "unpacked",
    (error: unknown) => (error instanceof ArchiveRefused ? error.refusal : error),
  );
const part = (name: string, content: ZipPart["content"] = name): ZipPart => ({ name, content });
const WORKBOOK = writeZip([part("[Content_Types].xml"), part("xl/workbook.xml")]);

describe("what is an archive", () => {
  test.each<[what: string, bytes: Buffer, is: boolean]>([
    ["a ZIP of documents", writeZip([part("a.csv")]), true],
    ["an empty ZIP", writeZip([]), true],
    ["a workbook", WORKBOOK, false],
    ["text", Buffer.from("PK"), false],
    ["a ZIP without its end, which the reader of workbooks explains", WORKBOOK.subarray(0, 60), false],
  ])("%s", async (_what, bytes, is) => {
    expect(await isArchive(await archive(bytes))).toBe(is);
  });
});

describe("an archive", () => {
  test("gives its documents by name, byte for byte, without folders and what systems leave in them", async () => {
    const unpacked = await unpack([
      part("b/impact.csv", "Heat;KV\n"),
      part("b/"),
      part("__MACOSX/b/._impact.csv"),
      part("b/.DS_Store"),
      part("Thumbs.db"),
      part("a.xlsx", WORKBOOK),
    ]);
    expect(unpacked.map(({ name, bytes }) => [name, bytes])).toEqual([
      ["a.xlsx", WORKBOOK.length],
      ["impact.csv", 8],
    ]);
    expect(unpacked[1]!.sha256).toBe(sha256("Heat;KV\n"));
    expect(await readFile(unpacked[0]!.path)).toEqual(WORKBOOK);
  });

  test("keeps the folders of names that several share", async () => {
    const unpacked = await unpack([part("north/cert.csv"), part("south/cert.csv"), part("south/other.csv")]);
    expect(unpacked.map(({ name }) => name)).toEqual(["north/cert.csv", "south/cert.csv", "other.csv"]);
  });

  test.each<[what: string, parts: readonly ZipPart[], refused: string]>([
    ["a path out of its folder", [part("a.csv"), part("../../b.csv")], "name"],
    ["an absolute path", [part("/etc/passwd")], "name"],
    ["a drive", [part("C:\\a.csv")], "name"],
    ["two files of one name", [part("a.csv", "1"), part("a.csv", "2")], "duplicate"],
    ["another archive", [part("inner.zip", writeZip([part("a.csv")]))], "nested"],
    ["another archive under another name", [part("a.pdf", writeZip([part("a.csv")]))], "nested"],
    ["too many documents", ["1", "2", "3", "4", "5"].map((name) => part(name)), "too-many-entries"],
    ["a document that is too large", [part("a.csv", "x".repeat(10_001))], "entry-too-large"],
    ["too much together", ["1", "2"].map((name) => part(name, name.repeat(8_000))), "too-large"],
  ])("with %s is refused", async (_what, parts, refused) => {
    expect(await refusal(unpack(parts))).toBe(refused);
  });

  test("that unpacks to gigabytes is refused after what is allowed, whatever size it states", async () => {
    const bomb = repeatDeflated("0".repeat(1_000_000), 4_000);
    expect(await refusal(unpack([part("a.csv", bomb)]))).toBe("entry-too-large");
    expect(await refusal(unpack([part("a.csv", { ...bomb, size: 100 })]))).toBe("damaged");
    for (const into of (await readdir(folder.path)).filter((name) => name.startsWith("into-"))) {
      for (const name of await readdir(join(folder.path, into))) {
        expect((await readFile(join(folder.path, into, name))).length).toBeLessThanOrEqual(10_000);
      }
    }
  });

  /** In the list of entries: where the fields of the first one stand. */
  const inList = (bytes: Buffer) => bytes.indexOf(Buffer.from("PK\x01\x02"));
  test.each<[what: string, change: (bytes: Buffer) => void, refused: string]>([
    ["a password", (bytes) => bytes.writeUInt16LE(1, inList(bytes) + 8), "encrypted"],
    ["a link", (bytes) => bytes.writeUInt32LE((0o120777 << 16) >>> 0, inList(bytes) + 38), "link"],
    ["a compression that is not known", (bytes) => bytes.writeUInt16LE(93, inList(bytes) + 10), "damaged"],
    ["another checksum", (bytes) => bytes.writeUInt32LE(1, inList(bytes) + 16), "damaged"],
    ["a place outside the file", (bytes) => bytes.writeUInt32LE(1_000_000, inList(bytes) + 42), "damaged"],
    ["a broken list", (bytes) => bytes.write("XX", inList(bytes), "latin1"), "damaged"],
  ])("with %s is refused", async (_what, change, refused) => {
    const changed = (bytes: Buffer) => {
      change(bytes);
      return bytes;
    };
    expect(await refusal(unpack([part("a.csv")], changed))).toBe(refused);
  });
});
