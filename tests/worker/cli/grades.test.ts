import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { gradesCommand } from "../../../worker/cli/grades.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";

let folder: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "heatgate-own-"));
});
afterEach(() => rm(folder, { recursive: true }));

async function run(...argv: string[]): Promise<{ code: number; out: string; err: string }> {
  let out = "";
  let err = "";
  const code = await gradesCommand(argv, {
    out: (text) => {
      out += `${text}\n`;
    },
    err: (text) => {
      err += `${text}\n`;
    },
    environment: { HEATGATE_GRADES: folder },
    today: () => "2026-11-25",
  });
  return { code, out, err };
}

const LIMIT = "astm-a240/undated/s31603#A50";

describe("heatgate grades", () => {
  it("lists what is held of a grade", async () => {
    const { code, out } = await run("list", "304L");
    expect(code).toBe(0);
    expect(out).toMatch(
      /^astm-a240\/2007e1\/s30403 +S30403 \(304L\) +ASTM A240\/A240M, 07e1 and later +13 of 13 limits verified$/m,
    );
    expect(out).toContain("astm-a182/undated/f304l");
    expect(out).not.toContain("s31603");
  });

  it("sums up every standard, and the sums add up", async () => {
    const { code, out } = await run("summary");
    expect(code).toBe(0);
    expect(out).toMatch(/^ASTM A240\/A240M +\d+ .* 04 and earlier; .*07e1 and later$/m);
    const { standards, totals } = JSON.parse((await run("summary", "--format", "json")).out);
    const { grades } = await loadLibrary();
    const limits = grades.flatMap(({ grade }) => grade.limits);
    expect(totals).toMatchObject({ files: grades.length, limits: limits.length });
    expect(totals.memory).toBe(limits.filter(({ known }) => known.how === "memory").length);
    for (const row of [...standards, totals]) {
      expect(row.verified + row.disputed + row.sister + row.memory, row.standard).toBe(row.limits);
      expect(row.grades, row.standard).toBeLessThanOrEqual(row.files);
    }
    for (const number of ["files", "limits", "verified", "disputed", "sister", "memory"] as const) {
      const sum = standards.reduce((running: number, row: Record<typeof number, number>) => running + row[number], 0);
      expect(sum, number).toBe(totals[number]);
    }
    expect((await run("summary", "--format", "xml")).code).toBe(2);
  });

  it("shows every limit with how it is known, and marks those that fail no heat by themselves", async () => {
    const { code, out } = await run("show", "A240 316L");
    expect(code).toBe(0);
    expect(out).toContain("S31603 (316L): ASTM A240/A240M");
    expect(out).toMatch(/^#C +C max 0\.030 %, heat analysis +Table 1 +seen in 2 sources$/m);
    expect(out).toMatch(/^#A50 +A50 min 40 % +Table 2 +\* from memory, not verified$/m);
    expect(out).toContain("heatgate grades confirm");
  });

  it("gives candidates where a name is not enough", async () => {
    expect(await run("show", "304L")).toMatchObject({ code: 1, err: expect.stringContaining("name the standard") });
    expect(await run("show", "A240 304K")).toMatchObject({ code: 1, err: expect.stringContaining("S30403 (304L)") });
  });

  it("keeps a confirmation that the next load applies", async () => {
    const confirmed = await run(
      "confirm",
      LIMIT,
      "--value",
      "40",
      "--by",
      "N. Brandt",
      "--document",
      "own copy, Table 2",
    );
    expect(confirmed).toMatchObject({ code: 0, err: "" });
    expect(JSON.parse(await readFile(join(folder, "confirmations.json"), "utf8"))).toEqual({
      confirmations: 1,
      limits: [
        { limit: LIMIT, value: "A50 min 40 %", by: "N. Brandt", on: "2026-11-25", document: "own copy, Table 2" },
      ],
    });

    const library = await loadLibrary([folder]);
    const grade = library.grades.find((entry) => entry.grade.id === "astm-a240/undated/s31603")!.grade;
    expect(grade.limits.find(({ id }) => id === "A50")!.known.how).toBe("user");
    expect((await run("show", "A240 316L")).out).toContain(
      "confirmed by N. Brandt on 2026-11-25 against own copy, Table 2",
    );
  });

  it("replaces an earlier confirmation of the same limit", async () => {
    await run("confirm", LIMIT, "--value", "40", "--by", "N. Brandt", "--document", "a");
    await run("confirm", LIMIT, "--value", "40", "--by", "I. Holm", "--document", "b", "--on", "2026-11-26");
    const { limits } = JSON.parse(await readFile(join(folder, "confirmations.json"), "utf8"));
    expect(limits).toMatchObject([{ by: "I. Holm", on: "2026-11-26" }]);
  });

  it.each([
    ["another value", [LIMIT, "--value", "35", "--by", "x", "--document", "y"], 1, "the library says min 40 %"],
    [
      "a limit that is not there",
      ["astm-a240/undated/s31603#Q", "--value", "1", "--by", "x", "--document", "y"],
      1,
      "no limit",
    ],
    ["no name of who", [LIMIT, "--value", "40", "--document", "y"], 2, "--by"],
    ["no date for a date", [LIMIT, "--value", "40", "--by", "x", "--document", "y", "--on", "today"], 2, "--on"],
  ])("does not confirm with %s", async (_, argv, code, says) => {
    expect(await run("confirm", ...argv)).toMatchObject({ code, err: expect.stringContaining(says) });
    expect((await loadLibrary([folder])).grades.length).toBeGreaterThan(200);
  });

  it("refuses a library whose confirmed value has changed, and says where", async () => {
    const limits = [{ limit: LIMIT, value: "A50 min 35 %", by: "x", on: "2026-11-20", document: "y" }];
    await writeFile(join(folder, "confirmations.json"), JSON.stringify({ confirmations: 1, limits }));
    const { code, err } = await run("validate");
    expect(code).toBe(1);
    expect(err).toContain(`confirmations.json at /limits/0/value: the library now says "A50 min 40 %"`);
    await run("confirm", LIMIT, "--value", "40", "--by", "x", "--document", "y");
    expect(await run("validate")).toMatchObject({ code: 0 });
  });

  it("validates in numbers", async () => {
    const { code, out } = await run("validate");
    expect(code).toBe(0);
    expect(out).toMatch(/^\d+ standards, \d+ grades and editions, \d+ limits, \d+ tolerance tables: valid$/m);
  });

  it.each([[], ["frobnicate"], ["show"], ["confirm"], ["list", "--colour"]])("explains itself: %j", async (...argv) => {
    expect(await run(...argv)).toMatchObject({
      code: 2,
      out: "",
      err: expect.stringContaining("heatgate grades list"),
    });
  });
});
