/**
 * The judge, measured (`npm run bench -- judge`): 1,000 heats of 15 readings held against one requirement, in one process, as a ratio
 * to JSON.parse of the certificate they stand in. Aim: below 20 for judging. Joining and writing the report are shown apart.
 * What is measured is the compiled code, as it runs in the product: the loader that runs this file names every inner function anew
 * at each call, which made judging look slower by a quarter.
 */
import { joinHeats } from "../../core/certificate/join-heats.js";
import { readCertificate } from "../../core/recogniser/read-certificate.js";
import { requirementSchema } from "../../core/requirement/requirement.js";
import { DEFAULT_BUDGETS } from "../../worker/readers/budgets.js";
import { createMeter } from "../../worker/readers/meter.js";
import { unpackDocument } from "../../worker/readers/packed-document.js";
import { readJson } from "../../worker/readers/tree/read-json.js";
import { loadLibrary } from "../../worker/store/grade-files.js";

const { judgeHeat }: typeof import("../../core/verdict/judge-heat.js") = await import(
  compiled("core/verdict/judge-heat.js")
);
const { buildReport }: typeof import("../../core/report/build-report.js") = await import(
  compiled("core/report/build-report.js")
);

const HEATS = 1_000;
const READINGS = 15;
const ROUNDS = 9;
const AIM = 20;

/** Values move from heat to heat, so that nothing can be remembered between them; one heat in 50 has too much carbon. */
function heatOf(index: number) {
  const step = (from: number, by: number, every: number) => Number((from + by * (index % every)).toFixed(4));
  return {
    heat: `H${10_000 + index}`,
    grades: [{ standard: "ASTM A240/A240M", grade: "304L" }],
    product: { form: "plate", thickness: "12 mm", condition: "solution annealed" },
    chemistry: [
      {
        analysis: "heat",
        unit: "%",
        values: {
          C: index % 50 === 0 ? 0.034 : step(0.012, 0.001, 17),
          Si: step(0.31, 0.01, 29),
          Mn: step(1.2, 0.01, 53),
          P: step(0.021, 0.001, 19),
          S: step(0.001, 0.0001, 23),
          Cr: step(17.6, 0.01, 97),
          Ni: step(8.02, 0.01, 89),
          N: step(0.04, 0.001, 41),
        },
      },
    ],
    tensile: [
      {
        test: `T${index}`,
        unit: "MPa",
        values: { "Rp0.2": 240 + (index % 71), Rm: 560 + (index % 67), A50: 45 + (index % 13) },
      },
    ],
    hardness: [{ scale: "HBW", singles: [150 + (index % 31)] }],
    impact: [
      {
        test: `C${index}`,
        zone: "base",
        temperature: "-196 °C",
        width: "10 mm",
        KV: { unit: "J", singles: [90 + (index % 43), 95 + (index % 37), 99 + (index % 47)] },
      },
    ],
  };
}

const text = JSON.stringify({
  certificate: 1,
  type: "3.1",
  heats: Array.from({ length: HEATS }, (_, index) => heatOf(index)),
});
const requirement = requirementSchema.parse({
  requirement: 1,
  name: "T-204 shell plate",
  grades: [{ standard: "ASTM A240/A240M", grade: "S30403" }],
  product: { form: "plate", thickness: "12 mm", condition: "solution annealed" },
  limits: [{ quantity: "C", max: "0.025", unit: "%", source: "T-204 specification 4.2" }],
  impact: [{ zone: "base", temperature: "-196 °C", average: "60 J", single: "42 J" }],
});
const library = await loadLibrary();
const certificate = readCertificate(unpackDocument(readJson(Buffer.from(text), createMeter(DEFAULT_BUDGETS))), 0);
const { heats } = joinHeats([{ document: 0, certificate }]);
const count = heats.reduce((sum, heat) => sum + heat.readings.length, 0);
if (heats.length !== HEATS || count !== HEATS * READINGS) throw new Error(`${heats.length} heats, ${count} readings`);

const judge = () =>
  heats.map((heat) => judgeHeat({ heat, certificates: [certificate], doubts: [], requirement, library }));
const report = () =>
  buildReport({
    documents: [
      { name: "bench.json", sha256: "0".repeat(64), reader: "json", content: { kind: "certificate", certificate } },
    ],
    requirement: { value: requirement, digest: `sha256:${"0".repeat(64)}` },
    library,
  });

/** Medians of rounds in which the three take turns, so that a busy moment of the machine hits all of them. */
const times = { parse: [] as number[], judge: [] as number[], report: [] as number[] };
for (let round = 0; round < ROUNDS; round++) {
  times.parse.push(ms(() => JSON.parse(text)));
  times.judge.push(ms(judge));
  times.report.push(ms(report));
}
const [parseMs, judgeMs, reportMs] = [times.parse, times.judge, times.report].map(median) as [number, number, number];
const failing = report().heats.filter(({ verdict }) => verdict === "fail").length;
console.log(
  `${HEATS} heats × ${READINGS} readings, ${(text.length / 1e6).toFixed(2)} MB of JSON, ${failing} heats fail`,
);
console.log(
  `JSON.parse ${parseMs.toFixed(1)} ms, judging ${judgeMs.toFixed(1)} ms, whole report ${reportMs.toFixed(1)} ms`,
);
console.log(
  `judging / JSON.parse ${(judgeMs / parseMs).toFixed(1)} (aim: below ${AIM}), report / JSON.parse ${(reportMs / parseMs).toFixed(1)}`,
);

function compiled(path: string): string {
  return new URL(`../../dist/${path}`, import.meta.url).href;
}

function ms(work: () => unknown): number {
  const start = process.hrtime.bigint();
  work();
  return Number(process.hrtime.bigint() - start) / 1e6;
}

function median(values: readonly number[]): number {
  return [...values].sort((left, right) => left - right)[values.length >> 1]!;
}
