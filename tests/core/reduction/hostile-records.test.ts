import fc from "fast-check";
import { expect, test } from "vitest";
import { reduceCurves, reduceRecords } from "../../../core/reduction/reduce-records.js";
import { reduceRecord } from "../../../core/reduction/tensile/reduce-record.js";
import { fitTransition } from "../../../core/reduction/transition/fit-transition.js";
import { renderReductionHtml } from "../../../core/report/reduction/reduction-html.js";
import { buildReductionReport } from "../../../core/report/reduction/reduction-report.js";
import { recordOf } from "../../reference/synthetic-curve.js";
import { tableOf } from "../../reference/table-of.js";

// Whatever a file holds, reduction ends, with finite values or none, and the page can be drawn.

const wild = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: -10, max: 1000, noNaN: true }) },
  { weight: 1, arbitrary: fc.constantFrom(0, Number.NaN, 1e300, -1e300, 1e-300, Number.POSITIVE_INFINITY, 5e-324) },
);
const column = fc.array(wild, { minLength: 0, maxLength: 120 });

test("any two columns of numbers", () => {
  fc.assert(
    fc.property(column, column, column, (strain, stress, time) => {
      const length = Math.min(strain.length, stress.length, time.length);
      const cut = (values: readonly number[]) => Float64Array.from(values.slice(0, length));
      const record = recordOf({ strain: cut(strain), stressMPa: cut(stress), timeSeconds: cut(time) });
      for (const { value } of reduceRecord(record).results) expect(Number.isFinite(value)).toBe(true);
    }),
    { numRuns: 300 },
  );
});

test("any rising curve with any unit error", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 3, max: 400 }),
      fc.double({ min: -12, max: 12, noNaN: true }),
      fc.double({ min: -12, max: 12, noNaN: true }),
      (rows, a, b) => {
        const strain = Float64Array.from({ length: rows }, (_, i) => (i / rows) * 0.1 * 10 ** a);
        const stressMPa = strain.map((_, i) => 500 * Math.tanh((8 * i) / rows) * 10 ** b);
        for (const { value } of reduceRecord(recordOf({ strain, stressMPa })).results)
          expect(Number.isFinite(value)).toBe(true);
      },
    ),
    { numRuns: 200 },
  );
});

test("any cells under the headings of a curve or of a pendulum table: a report and a page come out", () => {
  const cell = fc.oneof(
    { weight: 300, arbitrary: fc.double({ min: -1e3, max: 1e3, noNaN: true }).map(String) },
    {
      weight: 1,
      arbitrary: fc.constantFrom(
        "",
        "-",
        "NaN",
        "1e308",
        "-1e308",
        "12:30:01",
        "<script>",
        "1.234,5",
        "1,234,567",
        "0x10",
        "٣",
      ),
    },
    { weight: 1, arbitrary: fc.string({ maxLength: 6 }).map((text) => text.replace(/["\r\n;]/g, "")) },
  );
  const headings = fc.constantFrom(
    "Time s;Strain %;Load kN\n",
    "Kraft [kN];Verlängerung [mm]\n",
    "Force (N);Extension (mm);Stress (MPa)\n",
    "Specimen;Temperature °C;Rise angle °;Patch width;Patch depth\n",
  );
  const header = fc.constantFrom(
    "",
    "Heat;<H&1>\nDiameter d0;10;mm\nL0;50;mm\n",
    "Release angle;150;°\nPendulum mass;20;kg\nPendulum length;0.75;m\n",
    "Area;1e-300;mm2\n",
  );
  let [curves, pieces] = [0, 0];
  fc.assert(
    fc.property(
      header,
      headings,
      fc.array(fc.array(cell, { minLength: 5, maxLength: 5 }), { minLength: 10, maxLength: 60, size: "max" }),
      (lines, names, rows) => {
        const text = `${lines}${names}${rows.map((row) => row.join(";")).join("\n")}`;
        const document = { reader: "csv" as const, tables: [tableOf(text, ";")], doubts: [] };
        const certificate = reduceRecords(document, 0);
        const input = {
          document: { name: "x", sha256: "0" },
          curves: document.tables.flatMap((table) => reduceCurves(table)),
          impactHeats: certificate?.heats ?? [],
          doubts: certificate?.doubts ?? [],
        };
        curves += input.curves.filter(({ reduction }) => reduction.work !== undefined).length;
        pieces += input.impactHeats.flatMap(({ readings }) => readings).length;
        expect(renderReductionHtml(buildReductionReport(input), input)).not.toContain("<script");
      },
    ),
    { numRuns: 300 },
  );
  // The property is about what was read as a record, so some must have been.
  expect(curves).toBeGreaterThan(20);
  expect(pieces).toBeGreaterThan(20);
});

test("any points for a transition: a fit that converged, or a refusal", () => {
  const point = fc.record({
    temperatureC: fc.integer({ min: -196, max: 200 }),
    value: fc.double({ min: 0, max: 300, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(point, { maxLength: 25 }), (points) => {
      const result = fitTransition(points);
      if (!("code" in result)) expect(result.fit.converged).toBe(true);
    }),
    { numRuns: 60 },
  );
});
