import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Grade, Limit } from "../../../core/grades/grade.js";
import { compare, decimal } from "../../../core/quantity/decimal.js";
import { kindOf } from "../../../core/quantity/quantity.js";
import { bundledFolder, loadLibrary } from "../../../worker/store/grade-files.js";
import { bracketFaults } from "./bracket-faults.js";

// Loading checks every file against the schema, its id against its path, and that the names in it lead somewhere.
const library = await loadLibrary();
const grades = library.grades.map(({ grade }) => grade);
const sources = JSON.parse(readFileSync(join(bundledFolder(), "sources.json"), "utf8")) as Record<string, unknown>;

const STANDARDS = [
  "api-5l",
  "astm-a105",
  "astm-a106",
  "astm-a182",
  "astm-a193",
  "astm-a203",
  "astm-a217",
  "astm-a234",
  "astm-a240",
  "astm-a276",
  "astm-a312",
  "astm-a320",
  "astm-a333",
  "astm-a350",
  "astm-a351",
  "astm-a353",
  "astm-a36",
  "astm-a387",
  "astm-a403",
  "astm-a479",
  "astm-a516",
  "astm-a53",
  "astm-a537",
  "astm-a553",
  "astm-a572",
  "astm-a666",
  "astm-b209",
  "astm-b424",
  "astm-b443",
  "aws-a5.4",
  "aws-a5.9",
  "en-10025-2",
  "en-10025-3",
  "en-10028-2",
  "en-10028-3",
  "en-10028-4",
  "en-10028-7",
  "en-10088-2",
  "en-10216-5",
  "en-485-2",
  "en-iso-14343-a",
  "en-iso-3581-a",
];

/** One line for each limit that breaks a rule, so that a failing test lists them all. */
function offending(rule: (limit: Limit, grade: Grade) => string | undefined): string[] {
  return grades.flatMap((grade) =>
    grade.limits.flatMap((limit) => {
      const fault = rule(limit, grade);
      return fault === undefined ? [] : [`${grade.id}#${limit.id}: ${fault}`];
    }),
  );
}

describe("the grade library", () => {
  it("holds every standard that it says it does", () => {
    expect([...new Set(grades.map((grade) => grade.id.split("/")[0]))].sort()).toEqual(STANDARDS);
  });

  it("names every grade and every limit once", () => {
    const grade = grades.map(({ id }) => id);
    expect(grade).toEqual([...new Set(grade)]);
    for (const { id, limits } of grades) {
      const names = limits.map((limit) => limit.id);
      expect(names, id).toEqual([...new Set(names)]);
    }
  });

  it("names every designation of a grade once", () => {
    for (const { id, designations } of grades) expect(designations, id).toEqual([...new Set(designations)]);
  });

  // A converted limit would differ from its partner by rounding at most: more means a slip of the pen.
  it("has inch-pound partners of about the same size", () => {
    expect(
      offending(({ min, inchPound, unit }) => {
        if (min === undefined || inchPound?.min === undefined || unit !== "MPa" || inchPound.unit !== "ksi")
          return undefined;
        const ratio = Number(min) / (Number(inchPound.min) * 6.8948);
        return ratio > 0.97 && ratio < 1.03 ? undefined : `${min} MPa beside ${inchPound.min} ksi`;
      }),
    ).toEqual([]);
  });

  it("says heat or product of chemistry only", () => {
    expect(
      offending(({ analysis, quantity }) => {
        const isChemistry = kindOf(quantity) === "chemistry" || kindOf(quantity) === "index";
        return analysis === undefined || isChemistry ? undefined : `${analysis} analysis of ${quantity}`;
      }),
    ).toEqual([]);
  });

  it("says where each limit was seen, and nothing of what was only recalled", () => {
    expect(
      offending(({ known }) => {
        const from = known.from ?? [];
        const unnamed = from.filter((name) => !Object.hasOwn(sources, name));
        if (unnamed.length > 0) return `unnamed sources ${unnamed.join(", ")}`;
        if (known.how === "seen" && (known.sources < 1 || from.length < known.sources)) return "seen, but not where";
        if (known.how === "memory" && known.sources !== 0) return "recalled, yet with sources";
        return undefined;
      }),
    ).toEqual([]);
  });

  it("has brackets without gaps or overlaps", () => {
    expect(grades.flatMap(bracketFaults)).toEqual([]);
  });
});

describe("product-analysis tolerance tables", () => {
  it.each(library.tolerances.map((table) => [table.id, table] as const))(
    "%s: one row for each specified limit",
    (_, table) => {
      const ends = table.rows.map(({ element, limit }) => `${element} ${limit.over ?? limit.from ?? ""}`);
      expect(ends).toEqual([...new Set(ends)]);
      for (const { element, limit } of table.rows) {
        const low = limit.over ?? limit.from;
        const high = limit.upTo ?? limit.under;
        if (low !== undefined && high !== undefined) expect(compare(decimal(low), decimal(high)), element).toBe(-1);
      }
    },
  );
});
