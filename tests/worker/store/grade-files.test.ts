import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { bundledFolder, GradeFileError, loadLibrary } from "../../../worker/store/grade-files.js";

let folder: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "heatgate-grades-"));
});
afterEach(() => rm(folder, { recursive: true }));

async function put(path: string, content: string): Promise<void> {
  await mkdir(dirname(join(folder, path)), { recursive: true });
  await writeFile(join(folder, path), content);
}

async function faultsOf(loading: Promise<unknown>): Promise<GradeFileError["faults"]> {
  const error = await loading.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  expect(error).toBeInstanceOf(GradeFileError);
  return (error as GradeFileError).faults;
}

describe("loading the grade library", () => {
  it("holds the bundled grades with the digest of each file", async () => {
    const library = await loadLibrary();
    const entry = library.grades.find(({ grade }) => grade.id === "astm-a240/2007e1/s30403");
    expect(entry?.digest).toMatch(/^sha256:[0-9a-f]{64}$/);
    expect(library.tolerances.map((table) => table.id)).toContain("astm-a480");
  });

  it("finds the bundled folder from the built module too", () => {
    const data = bundledFolder();
    const fromDist = join(dirname(dirname(dirname(data))), "dist", "worker", "store");
    expect(bundledFolder(fromDist)).toBe(data);
  });

  it("puts a user's file in the place of the bundled one with the same id", async () => {
    const file = join(bundledFolder(), "astm-a240/2007e1/s30403.json");
    const own = (await readFile(file, "utf8")).replace('"S30403 (304L)"', '"S30403 (304L), own"');
    await put("astm-a240/2007e1/s30403.json", own);
    const library = await loadLibrary([folder]);
    const entries = library.grades.filter(({ grade }) => grade.id === "astm-a240/2007e1/s30403");
    expect(entries.map(({ grade }) => grade.name)).toEqual(["S30403 (304L), own"]);
  });

  it.each([
    ["not JSON", "{", ""],
    ["a number where text must stand", '{"id":"ours/2020/x","limits":[{"max":0.03}]}', "/limits/0/max"],
    ["an unknown field", '{"id":"ours/2020/x","colour":"grey"}', "/colour"],
    ["a field that is there twice", '{"limits":[{"max":"0.03","max":"0.08"}]}', "/limits/0/max"],
    ["an unknown field of a limit", '{"id":"ours/2020/x","limits":[{"maximum":"0.03"}]}', "/limits/0/maximum"],
  ])("names file and place of %s", async (_, content, pointer) => {
    await put("ours/2020/x.json", content);
    const faults = await faultsOf(loadLibrary([folder]));
    expect(faults).toContainEqual(expect.objectContaining({ file: join(folder, "ours/2020/x.json"), pointer }));
  });

  it.each([
    ['"astm-a480"', '"astm-a481"', "/productTolerance"],
    [
      '"quantity": "Rm", "unit": "MPa", "min": "485"',
      '"quantity": "KV", "unit": "J", "min": "60", "impact": { "temperature": "-196", "rule": "70 pct" }',
      "/limits/8/impact/rule",
    ],
    ['"quantity": "Rm", "unit": "MPa"', '"quantity": "CE", "formula": "CE (ours)", "unit": "1"', "/limits/8/formula"],
  ])("refuses %s as %s, a name that leads nowhere", async (sound, dead, pointer) => {
    const file = join(bundledFolder(), "astm-a240/2007e1/s30403.json");
    const own = (await readFile(file, "utf8"))
      .replace(sound, dead)
      .replace('"inchPound": { "unit": "ksi", "min": "70" },', "");
    await put("astm-a240/2007e1/s30403.json", own);
    expect(await faultsOf(loadLibrary([folder]))).toMatchObject([{ pointer }]);
  });

  it("refuses a file whose id is not its path", async () => {
    const file = join(bundledFolder(), "astm-a240/2007e1/s30403.json");
    await put("ours/2020/x.json", await readFile(file, "utf8"));
    expect(await faultsOf(loadLibrary([folder]))).toMatchObject([{ pointer: "/id" }]);
  });

  it("refuses a file that is far too large, and a folder that is not there", async () => {
    await put("ours/2020/x.json", " ".repeat(1_000_001));
    expect(await faultsOf(loadLibrary([folder]))).toMatchObject([{ message: expect.stringContaining("larger than") }]);
    expect(await faultsOf(loadLibrary([join(folder, "missing")]))).toMatchObject([{ file: join(folder, "missing") }]);
  });
});
