/**
 * Reduction of raw records, measured (`npm run bench -- reduction`).
 *
 * A 100,000-point curve: reading its cells and reducing it, as a ratio to parsing its CSV with csv-parse; then 1,000 curves one
 * after the other with the highest resident memory. Ratios are what to compare; times depend on the machine.
 */
import { parse } from "csv-parse/sync";
import type { Cell, Table } from "../../core/recogniser/cells.js";
import { reduceRecord } from "../../core/reduction/tensile/reduce-record.js";
import { readTensileRecord } from "../../core/reduction/tensile/tensile-record.js";
import { austeniticStress, normalNoise } from "../reference/synthetic-curve.js";

const POINTS = 100_000;
const ROUNDS = 9;

function curveText(points: number, seed: number): string {
  const draw = normalNoise(seed);
  const lines = ["Heat,H4471", "Diameter d0,10,mm", "Gauge length L0,50,mm", "Time,Strain,Load", "s,%,kN"];
  for (let i = 0; i < points; i++) {
    const share = i / (points - 1);
    const strain = share < 0.5 ? share * 0.04 : 0.02 + (share - 0.5) * 1.06;
    const forceKn = ((austeniticStress(strain) + 0.1 * draw()) * Math.PI * 25) / 1000;
    lines.push(`${(i * 0.01).toFixed(2)},${(100 * strain).toFixed(6)},${forceKn.toFixed(5)}`);
  }
  return lines.join("\n");
}

function rowsOf(text: string): string[][] {
  return parse(text, { relax_column_count: true });
}

function tableOf(rows: readonly string[][]): Table {
  const cells: Cell[] = [];
  rows.forEach((row, at) => {
    row.forEach((text, column) => {
      cells.push({ row: at, column, text, place: { line: at + 1, column: column + 1 }, confidence: 1 });
    });
  });
  return { name: "bench", cells };
}

/** Median of several runs: the machine has other things to do, too. */
function medianMs(work: () => unknown): number {
  const times = Array.from({ length: ROUNDS }, () => {
    const start = process.hrtime.bigint();
    work();
    return Number(process.hrtime.bigint() - start) / 1e6;
  });
  return times.sort((left, right) => left - right)[ROUNDS >> 1]!;
}

function oneLongCurve(): void {
  const text = curveText(POINTS, 1);
  const table = tableOf(rowsOf(text));
  const record = readTensileRecord(table);
  if (!record) throw new Error("the curve was not recognised");
  const parsing = medianMs(() => rowsOf(text));
  const reading = medianMs(() => readTensileRecord(table));
  const reducing = medianMs(() => reduceRecord(record));
  const ratio = (reading + reducing) / parsing;
  console.log(
    `${POINTS} points: csv-parse ${parsing.toFixed(0)} ms, cells to record ${reading.toFixed(0)} ms, reduction ${reducing.toFixed(0)} ms`,
  );
  console.log(
    `reduction / parsing ${(reducing / parsing).toFixed(2)}, with reading the cells ${ratio.toFixed(2)} (aim: at most 1)`,
  );
}

function manyCurves(): void {
  const texts = Array.from({ length: 10 }, (_, seed) => curveText(2000, seed + 2));
  let highestMB = 0;
  let settledMB = 0;
  const start = process.hrtime.bigint();
  for (let i = 0; i < 1000; i++) {
    const record = readTensileRecord(tableOf(rowsOf(texts[i % texts.length]!)));
    if (!record || reduceRecord(record).results.length === 0) throw new Error("a curve was not reduced");
    const residentMB = process.memoryUsage.rss() / 2 ** 20;
    if (i === 200) settledMB = residentMB;
    highestMB = Math.max(highestMB, residentMB);
  }
  const seconds = Number(process.hrtime.bigint() - start) / 1e9;
  console.log(
    `1000 curves of 2000 points: ${seconds.toFixed(1)} s, resident ${settledMB.toFixed(0)} MB after 200, at most ${highestMB.toFixed(0)} MB`,
  );
}

oneLongCurve();
manyCurves();
