/**
 * What it costs that documents are read in disposable children: one job from its bytes to its report, with the reader in this process
 * and through the warm pool, by turns, on one sample of each kind. On the built code, as the service runs it. The aim is 20 ms at most.
 */
import { execFileSync } from "node:child_process";
import { readFile } from "node:fs/promises";

execFileSync("npm", ["run", "-s", "build"], { stdio: "inherit" });
const built = (file: string) => import(new URL(`../../dist/worker/${file}`, import.meta.url).href);
const { createVerifier } = await built("create-verifier.js");
const { verifyDocuments } = await built("jobs/verify-documents.js");
const { readBytes } = await built("readers/read-bytes.js");
const { unpackDocument } = await built("readers/packed-document.js");
const { createMeter } = await built("readers/meter.js");
const { DEFAULT_BUDGETS } = await built("readers/budgets.js");

const SAMPLES = [
  ["CSV", "carbon-too-high/aurenbach-a-240417.csv", "text/csv"],
  ["JSON", "json-certificate/ellery-ew-7801.json", "application/json"],
  ["workbook", "clean-304l-plate/norrvik-ns-88213.xlsx", "application/octet-stream"],
] as const;
const WARM = 20;
const ROUNDS = 60;

const isolated = await createVerifier({ children: 1 });
const inProcess = {
  ...isolated,
  async read(path: string, hint: unknown) {
    const packed = await readBytes(await readFile(path), hint, createMeter(DEFAULT_BUDGETS));
    return { ok: true, document: unpackDocument(packed) };
  },
};
console.log("| job | in this process | through the pool | costs | ratio |\n| --- | --- | --- | --- | --- |");
for (const [kind, sample, mediaType] of SAMPLES) {
  const path = new URL(`../../samples/${sample}`, import.meta.url).pathname;
  const given = [{ name: sample, sha256: "0".repeat(64), mediaType, path }];
  const times: { readonly here: number[]; readonly pooled: number[] } = { here: [], pooled: [] };
  for (let round = 0; round < WARM + ROUNDS; round++) {
    for (const [name, verifier] of [
      ["here", inProcess],
      ["pooled", isolated],
    ] as const) {
      const started = performance.now();
      const { heatNumbers } = await verifyDocuments(verifier, given, null);
      if (round >= WARM) times[name].push(performance.now() - started);
      if (heatNumbers.length === 0) throw new Error(`${sample} was not read`);
    }
  }
  const [here, pooled] = [median(times.here), median(times.pooled)];
  console.log(
    `| ${kind} | ${here.toFixed(1)} ms | ${pooled.toFixed(1)} ms | ${(pooled - here).toFixed(1)} ms | ${(pooled / here).toFixed(2)} |`,
  );
}
await isolated.close();

function median(times: number[]): number {
  return times.sort((left, right) => left - right)[Math.floor(times.length / 2)]!;
}
