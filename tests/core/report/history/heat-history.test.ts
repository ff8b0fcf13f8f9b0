import { describe, expect, test } from "vitest";
import { heatHistory } from "../../../../core/report/history/heat-history.js";
import type { HistoryEntry } from "../../../../core/report/history/history.js";
import { historyEntry } from "../../../../core/report/history/history-entries.js";
import { renderHistoryHtml } from "../../../../core/report/history/history-html.js";
import { renderHistoryText } from "../../../../core/report/history/history-text.js";
import type { ReportReading } from "../../../../core/report/report.js";
import { storedDocument, storedHeat, storedReading } from "../../../support/stored-heat.js";

function entry(heat: string, date: string, readings: readonly ReportReading[], grade = "304L"): HistoryEntry {
  const documents = [storedDocument("mill.csv", { issuer: "Norrvik Stainless", date })];
  return historyEntry({ heat: storedHeat(heat, grade, readings), documents })!;
}

const carbon = (value: string) => storedReading("C", value, { analysis: "heat" });
/** Carbon of ten heats as in the test of the control limits: mean 0.0219, limits 0.0219 ± 2.66 x 0.0018889. */
const CARBON = ["21", "22", "20", "23", "21", "22", "24", "21", "22", "23"];
const steady = CARBON.map((thousandths, i) => entry(`H${i}`, `2026-01-${10 + i}`, [carbon(`0.0${thousandths}`)]));

describe("carbon over time", () => {
  test("the heats stand in the order of their dates, with the digits that were stored", () => {
    const [series] = heatHistory([...steady].reverse()).series;
    expect(series!.points.map(({ heat }) => heat)).toEqual(steady.map(({ heat }) => heat));
    expect(series!.points[2]).toEqual({ heat: "H2", date: "2026-01-12", value: "0.020", readings: ["0.020"] });
    expect(series!.limits!.mean).toBeCloseTo(0.0219, 9);
    expect(series!.limits!.upper).toBeCloseTo(0.0219 + (2.66 * 0.016) / 9, 9);
    expect(series!.message).toBe(
      "Carbon of 304L from Norrvik Stainless: 10 heats, mean 0.0219 %, control limits 0.01717 to 0.02663 %. No heat gives a signal.",
    );
  });

  test("a drift is seen while every heat is below the 0.030 % maximum, when the first heats set the limits", () => {
    const drift = ["25", "26", "27", "28"].map((c, i) => entry(`D${i}`, `2026-02-1${i}`, [carbon(`0.0${c}`)]));
    const [series] = heatHistory([...steady, ...drift], { baseHeats: 10 }).series;
    expect(series!.points.filter(({ signal }) => signal).map(({ heat, signal }) => [heat, signal])).toEqual([
      ["D2", "beyond-limit"],
      ["D3", "beyond-limit"],
    ]);
    expect(series!.message).toContain("Look into: D2 outside the control limits; D3 outside the control limits.");
    expect(series!.limits!.fromHeats).toBe(10);
  });

  test("seven heats give no limits, and that is said", () => {
    const [series] = heatHistory(steady.slice(0, 7)).series;
    expect(series!.limits).toBeUndefined();
    expect(series!.message).toContain("7 heats; control limits need at least 8.");
  });

  test("a heat handed in again counts once, by what was said last", () => {
    const again = entry("h-0", "2026-01-10", [carbon("0.019")]);
    const [series] = heatHistory([...steady, again]).series;
    expect(series!.points).toHaveLength(10);
    expect(series!.points[0]).toMatchObject({ value: "0.019" });
  });

  test("another grade, another mill and a check analysis do not mix in", () => {
    const other = entry("S1", "2026-01-20", [carbon("0.11")], "301");
    const product = entry("P1", "2026-01-20", [storedReading("C", "0.03", { analysis: "product" })]);
    const { series } = heatHistory([...steady, other, product]);
    expect(series.map(({ grade, points }) => [grade, points.length])).toEqual([
      ["301", 1],
      ["304L", 10],
    ]);
  });

  test.each<[what: string, reading: ReportReading]>([
    ["doubted", { ...carbon("0.020"), confidence: 0.5 }],
    ["a bound", { ...carbon("0.005"), bound: "<" }],
    ["without a test temperature", storedReading("KV", "120")],
  ])("a reading that is %s is left out, and that is noted", (_what, reading) => {
    const history = heatHistory([entry("H1", "2026-01-10", [reading])]);
    expect(history.series).toEqual([]);
    expect(history.notes.join()).toContain("1 reading was doubted");
  });

  test("a heat without a date has no place in time; one without a name has no history", () => {
    const undated = historyEntry({
      heat: storedHeat("H1", "304L", [carbon("0.02")]),
      documents: [storedDocument("a")],
    })!;
    expect(heatHistory([undated]).notes).toEqual([
      "The documents of 1 heat name no issuer. Their values may come from several mills, so they have no control limits; name the mill if it is one.",
      "1 heat has no date and no place in time; left out.",
    ]);
    const nameless = storedHeat("heat not stated, piece 1", "304L", [carbon("0.02")]);
    expect(historyEntry({ heat: nameless, documents: [] })).toBeUndefined();
  });
});

describe("impact energy and proof strength", () => {
  const at = (value: string, more: Partial<ReportReading>) =>
    storedReading("KV", value, { temperature: "-196 °C", zone: "base", statistic: "single", ...more });

  test("one point is the mean of a set's pieces, exactly; the printed average is not counted in", () => {
    const readings = [at("120", {}), at("127", {}), at("121", {}), at("123", { statistic: "average" })];
    const [series] = heatHistory([entry("H1", "2026-01-10", readings)]).series;
    expect(series!.points[0]).toMatchObject({ value: "122.7", readings: ["120", "127", "121"] });
  });

  test("zones, temperatures and sub-size pieces are series of their own; -320 °F is -196 °C", () => {
    const readings = [
      at("120", {}),
      at("150", { temperature: "-320 °F" }),
      at("60", { zone: "weld" }),
      at("200", { temperature: "20 °C" }),
      at("80", { specimen: "width 5 mm" }),
    ];
    const { series } = heatHistory([entry("H1", "2026-01-10", readings)]);
    expect(
      series.map(({ title, points }) => [
        title.replace("Impact energy KV of 304L from Norrvik Stainless, ", ""),
        points[0]!.value,
      ]),
    ).toEqual([
      ["base, -196 °C", "135.0"],
      ["base, -196 °C, width 5 mm", "80"],
      ["base, 20 °C", "200"],
      ["weld, -196 °C", "60"],
    ]);
  });

  test("proof strength at room temperature is one series, whether or not the paper says 21 °C", () => {
    const { series } = heatHistory([
      entry("H1", "2026-01-10", [storedReading("Rp0.2", "280")]),
      entry("H2", "2026-01-11", [storedReading("Rp0.2", "284", { temperature: "21 °C" })]),
      entry("H3", "2026-01-12", [storedReading("Rp0.2", "512", { temperature: "-196 °C" })]),
    ]);
    expect(series.map(({ points }) => points.length).sort()).toEqual([1, 2]);
  });

  test("what the newest heat was held to stands beside the control limits", () => {
    const source = { standard: "T-204", known: "project requirement", verified: true } as const;
    const held = (id: string, limit: object) => ({
      outcome: "pass" as const,
      quantity: "KV",
      zone: "base" as const,
      readings: [],
      limit: { id, unit: "J", ...limit },
      source,
      message: "",
    });
    const findings = [
      held("requirement#impact/0/average", { min: "60" }),
      held("requirement#impact/0/single", { min: "42" }),
    ];
    const { series } = heatHistory([{ ...entry("H1", "2026-01-10", [at("120", {})]), findings }]);
    expect(series[0]!.required).toEqual({ min: "60" });
  });
});

test("the mill is whoever gives the analysis, not the laboratory", () => {
  const documents = [
    storedDocument("lab", { issuer: "Calder Test House", date: "2026-03-12" }),
    storedDocument("mill", { issuer: "Norrvik Stainless", date: "2026-02-23" }),
  ];
  const heat = storedHeat("H1", "304L", [
    storedReading("KV", "120", { temperature: "-196 °C" }),
    storedReading("C", "0.02", { evidence: { document: 1, line: 1, column: 1 } }),
  ]);
  expect(historyEntry({ heat, documents })).toMatchObject({ mill: "Norrvik Stainless", date: "2026-02-23" });
});

test("text and page say the same, with a chart for each series", () => {
  const history = heatHistory(steady);
  const page = renderHistoryHtml(history);
  for (const { message, points } of history.series) {
    expect(renderHistoryText(history)).toContain(message);
    expect(page).toContain(message);
    for (const { heat, value } of points) {
      expect(page).toContain(heat);
      expect(page).toContain(value);
    }
  }
  expect(page.match(/<svg/g)).toHaveLength(history.series.length);
  expect(page).not.toContain("<script");
});

describe("heats whose documents name no issuer", () => {
  const unnamed = (mill?: string) =>
    CARBON.map((thousandths, i) => {
      const documents = [storedDocument("sheet.csv", { date: `2026-01-${10 + i}` })];
      return historyEntry({ heat: storedHeat(`H${i}`, "304L", [carbon(`0.0${thousandths}`)]), documents }, mill)!;
    });

  test("may be of several mills: no control limits and no signals, and that is said", () => {
    const { series, notes } = heatHistory(unnamed());
    expect(series[0]!.points).toHaveLength(10);
    expect(series[0]!.limits).toBeUndefined();
    expect(series[0]!.message).toContain("no control limits, because they may come from several mills");
    expect(notes.join()).toContain("name the mill if it is one");
  });

  test("are those of the mill that whoever asks names, and join its other heats", () => {
    const { series, notes } = heatHistory([...unnamed("Norrvik Stainless").slice(0, 5), ...steady.slice(5)]);
    expect(series.map(({ mill, points }) => [mill, points.length])).toEqual([["Norrvik Stainless", 10]]);
    expect(series[0]!.limits).toBeDefined();
    expect(notes).toEqual([]);
  });
});
