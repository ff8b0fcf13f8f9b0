/**
 * Reduction of raw records, measured (`npm run bench -- reduction`).
 *
 * A 100,000-point curve: reading its cells and reducing it, as a ratio to parsing its CSV with csv-parse; then 1,000 curves by
 * `heatgate reduce`, whose memory must not grow with their number. Ratios are what to compare; times depend on the machine.
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Readable, Writable } from "node:stream";
import { parse } from "csv-parse/sync";
import type { Cell, Table } from "../../core/recogniser/cells.js";
import { reduceRecord } from "../../core/reduction/tensile/reduce-record.js";
import { readTensileRecords } from "../../core/reduction/tensile/tensile-record.js";
import { runCommand } from "../../worker/cli/run-command.js";
import { austeniticStress, normalNoise } from "../reference/synthetic-curve.js";

const POINTS = 100_000;
const ROUNDS = 3;
const CURVES = 1000;
const POINTS_OF_MANY = 500;
/** By then the heap has found its size; what it still grows by must not hang on the number of curves. */
const SETTLED = 250;
const MOST_GROWTH = 1.25;

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
  const [record] = readTensileRecords(table);
  if (!record) throw new Error("the curve was not recognised");
  const parsing = medianMs(() => rowsOf(text));
  const reading = medianMs(() => readTensileRecords(table));
  const reducing = medianMs(() => reduceRecord(record));
  const ratio = (reading + reducing) / parsing;
  console.log(
    `${POINTS} points: csv-parse ${parsing.toFixed(0)} ms, cells to record ${reading.toFixed(0)} ms, reduction ${reducing.toFixed(0)} ms`,
  );
  console.log(
    `reduction / parsing ${(reducing / parsing).toFixed(2)}, with reading the cells ${ratio.toFixed(2)} (aim: at most 1)`,
  );
}

/** The command itself over files, reading children included in the time; memory is that of this process, which sees every curve. */
async function manyCurves(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "heatgate-bench-"));
  try {
    const texts = Array.from({ length: 10 }, (_, seed) => curveText(POINTS_OF_MANY, seed + 2));
    for (let i = 0; i < CURVES; i++) writeFileSync(join(folder, `curve-${i}.csv`), texts[i % texts.length]!);
    const { residentMB, seconds } = await reduceFolder(folder);
    const settledMB = Math.max(...residentMB.slice(0, SETTLED));
    const highestMB = Math.max(...residentMB.slice(SETTLED));
    console.log(
      `${residentMB.length} curves of ${POINTS_OF_MANY} points: ${seconds.toFixed(1)} s, resident at most ${settledMB.toFixed(0)} MB over the ` +
        `first ${SETTLED}, ${highestMB.toFixed(0)} MB over the rest: ratio ${(highestMB / settledMB).toFixed(2)} (at most ${MOST_GROWTH})`,
    );
    if (residentMB.length !== CURVES) throw new Error("not every curve was reduced");
    if (highestMB > MOST_GROWTH * settledMB) throw new Error("memory grows with the number of curves");
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Resident memory as each report is written. */
async function reduceFolder(folder: string) {
  const residentMB: number[] = [];
  const start = process.hrtime.bigint();
  const stdout = new Writable({
    write(_chunk, _encoding, done) {
      residentMB.push(process.memoryUsage.rss() / 2 ** 20);
      done();
    },
  });
  const code = await runCommand(["reduce", folder, "--format", "json"], {
    stdin: Readable.from([]),
    stdout,
    stderr: process.stderr,
    env: {},
    folder,
  });
  if (code !== 0) throw new Error(`heatgate reduce ended with ${code}`);
  return { residentMB, seconds: Number(process.hrtime.bigint() - start) / 1e9 };
}

await manyCurves();
oneLongCurve();
