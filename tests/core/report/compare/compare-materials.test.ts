import { describe, expect, test } from "vitest";
import type { Reading, Zone } from "../../../../core/certificate/certificate.js";
import { numbered } from "../../../../core/certificate/join-heats.js";
import type { JoinedHeat } from "../../../../core/certificate/joined-heat.js";
import { decimal } from "../../../../core/quantity/decimal.js";
import { type Quantity, reportUnit } from "../../../../core/quantity/quantity.js";
import { comparableHeat } from "../../../../core/report/compare/comparable-heat.js";
import { renderComparisonHtml } from "../../../../core/report/compare/compare-html.js";
import { compareMaterials } from "../../../../core/report/compare/compare-materials.js";
import { renderComparisonText } from "../../../../core/report/compare/compare-text.js";
import { valueAtService } from "../../../../core/report/compare/value-at-service.js";
import type { Requirement } from "../../../../core/requirement/requirement.js";

describe("a value at the service temperature", () => {
  const points = [
    { temperatureC: -196, value: 40 },
    { temperatureC: -196, value: 44 },
    { temperatureC: 20, value: 150 },
  ];
  test("tested there: mean and least", () => {
    expect(valueAtService(points, -196)).toEqual({ kind: "tested", value: 42, least: 40, pieces: 2 });
  });
  test("within 2 °C is there, beyond is not", () => {
    expect(valueAtService(points, -194)).toMatchObject({ kind: "tested" });
    expect(valueAtService(points, -193.9)).toMatchObject({ kind: "interpolated" });
  });
  test("between tests: straight", () => {
    expect(valueAtService(points, -88)).toEqual({ kind: "interpolated", value: 96, betweenC: [-196, 20] });
  });
  test("beyond the tests nothing is claimed", () => {
    expect(valueAtService(points, -253)).toEqual({ kind: "not-tested-there", nearestC: -196, side: "warmer" });
    expect(valueAtService(points, 100)).toEqual({ kind: "not-tested-there", nearestC: 20, side: "colder" });
    expect(valueAtService([], 0)).toEqual({ kind: "not-tested" });
  });
});

function reading(quantity: Quantity, value: string, celsius?: string, zone?: Zone, confidence = 1): Reading {
  return {
    quantity,
    printed: value,
    value: decimal(value),
    unit: reportUnit(quantity),
    confidence,
    evidence: { document: 0, line: 1, column: 1 },
    ...(celsius !== undefined && { temperature: { value: decimal(celsius), unit: "°C" as const } }),
    ...(zone && { zone }),
  };
}

function heat(name: string, grade: string, readings: readonly Reading[], condition?: string): JoinedHeat {
  const evidence = { document: 0, line: 1, column: 1 };
  const claims = [{ value: { grade }, printed: grade, confidence: 1, evidence }];
  const products = condition === undefined ? [] : [{ condition: { ...claims[0]!, value: condition } }];
  return { heat: name, readings: numbered(readings), claims, products, documents: [0], evidence: [], confidence: 1 };
}

// Invented heats for tank T-204: a full-hard 301 and an annealed 304L with its weld.
const HEATS = [
  heat("B3010", "301", [
    reading("Rm", "1290", "20"),
    reading("Rm", "2010", "-196"),
    ...["38", "44", "41"].map((value) => reading("KV", value, "-196", "base")),
  ]),
  heat("H4471", "304L", [
    reading("Rm", "590"),
    reading("Rm", "1480", "-196"),
    ...["152", "165", "160"].map((value) => reading("KV", value, "-196", "base")),
    ...["64", "41", "78"].map((value) => reading("KV", value, "-196", "weld")),
    reading("KV", "90", "-196"),
    reading("A", "55", "20", "base", 0.5),
  ]),
];

const REQUIREMENT: Requirement = {
  requirement: 1,
  name: "T-204 shell",
  limits: [{ quantity: "Rm", min: "485", unit: "MPa" }],
  impact: (["base", "weld"] as const).map((zone) => ({
    zone,
    temperature: "-196 °C",
    average: "60 J",
    single: "42 J",
  })),
};

describe("301 against 304L at -196 °C", () => {
  const comparison = compareMaterials(HEATS.map(comparableHeat), { value: decimal("-196"), unit: "°C" }, REQUIREMENT);
  const property = (title: string) => comparison.properties.find((candidate) => candidate.title === title)!;

  test("strength is won by 301, toughness by 304L, in words", () => {
    expect(property("tensile strength Rm").winner.name).toBe("301, heat B3010, base");
    expect(property("impact energy KV, base").winner).toEqual({
      name: "304L, heat H4471, base",
      message:
        "Impact energy KV, base: 304L, heat H4471, base leads with 159 J, against 41 J of 301, heat B3010, base. " +
        "Short of the required 60 J, 42 J each: 301, heat B3010, base.",
    });
  });

  test("a set is held by its mean and by each piece", () => {
    const [weld] = property("impact energy KV, weld").rows;
    expect(weld!.atService).toMatchObject({ kind: "tested", value: 61, least: 41 });
    expect(weld!.meets).toBe(false); // 41 J is below the 42 J asked of each piece
  });

  test("an impact result without a zone stands by itself, a doubted result is left out", () => {
    expect(property("impact energy KV, zone not stated").rows.map(({ material }) => material.name)).toEqual([
      "304L, heat H4471, zone not stated",
    ]);
    expect(property("elongation A")).toBeUndefined();
  });

  test("a tensile test without a temperature counts as room temperature, and that is noted", () => {
    const row = property("tensile strength Rm").rows.find(({ material }) => material.heat === "H4471")!;
    expect(row.points.map(({ temperatureC }) => temperatureC)).toEqual([20, -196]);
    expect(row.notes).toEqual(["temperature not stated, taken as room temperature"]);
  });

  test("a minimum that the mean just reaches is met, exactly", () => {
    const close = heat(
      "C1",
      "304L",
      ["59.9", "60.0", "60.1"].map((value) => reading("KV", value, "-196", "base")),
    );
    const { properties } = compareMaterials(
      [comparableHeat(close)],
      { value: decimal("-196"), unit: "°C" },
      REQUIREMENT,
    );
    expect(properties[0]!.rows[0]!.meets).toBe(true);
  });

  test("another unit of the service temperature gives the same page", () => {
    const kelvin = compareMaterials(HEATS.map(comparableHeat), { value: decimal("77.15"), unit: "K" }, REQUIREMENT);
    expect(renderComparisonText(kelvin)).toBe(renderComparisonText(comparison));
  });

  test("colder than every test: nobody wins, and that is said", () => {
    const { properties } = compareMaterials(
      HEATS.map(comparableHeat),
      { value: decimal("-253"), unit: "°C" },
      REQUIREMENT,
    );
    for (const { winner, rows } of properties) {
      expect(winner.name).toBeUndefined();
      expect(winner.message).toContain("nothing was tested at or around −253 °C");
      for (const { meets } of rows) expect(meets).toBeUndefined();
    }
  });

  test("text and page show the same values; the page has a picture and a table for each property", () => {
    const text = renderComparisonText(comparison);
    const page = renderComparisonHtml(comparison);
    expect(text).toContain("x 301, heat B3010, base");
    expect(page.match(/<svg/g)).toHaveLength(comparison.properties.length);
    expect(page.match(/<table/g)).toHaveLength(comparison.properties.length);
    for (const { winner } of comparison.properties) {
      expect(text).toContain(winner.message);
      expect(page).toContain(winner.message.slice(0, 30));
    }
  });
});

describe("one grade in two conditions", () => {
  const comparison = compareMaterials(
    [
      heat("B3010", "301", [reading("Rm", "2010", "-196")], "full hard"),
      heat("B3011", "301", [reading("Rm", "1780", "-196")], "annealed"),
    ].map(comparableHeat),
    { value: decimal("-196"), unit: "°C" },
    null,
  );

  test("is two materials, in rows, words and pictures", () => {
    const [property] = comparison.properties;
    const names = ["301 full hard, heat B3010, base", "301 annealed, heat B3011, base"];
    expect(property!.rows.map(({ material }) => material.name)).toEqual(names);
    expect(property!.winner.message).toContain(`${names[0]} leads with 2010 MPa, against 1780 MPa of ${names[1]}`);
    const picture = /<svg.*?<\/svg>/s.exec(renderComparisonHtml(comparison))![0];
    for (const name of names) expect(picture).toContain(name);
  });

  test("a material has one marker in all pictures of the page", () => {
    const both = compareMaterials(
      [
        heat("B3010", "301", [reading("Rm", "2010", "-196")], "full hard"),
        heat("B3011", "301", [reading("Rm", "1780", "-196"), reading("Z", "61", "-196")], "annealed"),
      ].map(comparableHeat),
      { value: decimal("-196"), unit: "°C" },
      null,
    );
    const [strength, area] = renderComparisonHtml(both).match(/<svg.*?<\/svg>/gs)!;
    // The second material's squares, also where it is the only one; a circle is the first one's.
    expect(strength).toContain("<circle");
    expect(area).not.toContain("<circle");
  });

  test("without a requirement there are no columns for one", () => {
    expect(renderComparisonHtml(comparison)).not.toMatch(/Required|Meets it/);
    const asked = compareMaterials(HEATS.map(comparableHeat), { value: decimal("-196"), unit: "°C" }, REQUIREMENT);
    expect(renderComparisonHtml(asked)).toContain("Meets it");
  });
});
