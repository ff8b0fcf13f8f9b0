// npm run faults [-- --short] [--seed 7] [--only redis] [--soak 20m]
import { parseArgs } from "node:util";
import { ACCEPTING_FAULTS } from "./accepting-faults.js";
import { CLOCK_FAULTS } from "./clock-faults.js";
import { embeddedFaults } from "./embedded-faults.js";
import type { Fault } from "./fault.js";
import { seededRandom } from "./random.js";
import { READING_FAULTS } from "./reading-faults.js";
import { RECEIVER_FAULTS } from "./receiver-faults.js";
import { rollingUpdate } from "./rolling-update.js";
import { SILENCE_FAULTS } from "./silence-faults.js";
import { soak } from "./soak.js";
import { STORE_FAULTS } from "./store-faults.js";
import { WORKER_FAULTS } from "./worker-faults.js";

const { values } = parseArgs({
  options: {
    short: { type: "boolean", default: false },
    seed: { type: "string" },
    only: { type: "string" },
    soak: { type: "string" },
  },
});
const seed = Number(values.seed ?? Math.floor(Math.random() * 1_000_000));
const faults = [
  ...ACCEPTING_FAULTS,
  ...WORKER_FAULTS,
  ...READING_FAULTS,
  ...RECEIVER_FAULTS,
  ...CLOCK_FAULTS,
  rollingUpdate,
  ...STORE_FAULTS,
  ...SILENCE_FAULTS,
  ...embeddedFaults(values.short),
]
  .filter((fault) => !values.short || fault.quick)
  .filter((fault) => !values.only || fault.name.includes(values.only));

// Servers and workers are taken down as this process exits, by a listener each.
process.setMaxListeners(0);
for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => process.exit(1));
console.log(`seed ${seed}: repeat with --seed ${seed}\n`);
if (values.soak) {
  const minutes = Number(/^(\d+)m$/.exec(values.soak)?.[1]);
  if (!(minutes > 0)) throw new Error("--soak takes minutes, such as 20m");
  process.exit((await soak(minutes * 60_000, seededRandom(seed))) ? 0 : 1);
}
console.log(
  "| fault | recovered after | limit | accepted | lost or wrong | seen |\n| --- | --- | --- | --- | --- | --- |",
);
// Faults have servers of their own and mostly wait, so the short run has several under way, those that may take longest first. The whole
// one measures, one after the other.
if (values.short) faults.sort((left, right) => right.limitMs - left.limitMs);
const next = faults.entries();
const late: [number, Fault][] = [];
let failed = 0;
await Promise.all(
  Array.from({ length: values.short ? 4 : 1 }, async () => {
    for (const [index, fault] of next) {
      const outcome = await runOne(fault, seed + index);
      // Four at once on a busy machine take each other's time, so what was only late may show alone that it is not. What was lost stays lost.
      if (outcome === "late" && values.short) late.push([index, fault]);
      else if (outcome !== "held") failed++;
    }
  }),
);
if (late.length > 0) console.log(`\nLate beside the others, once more alone: ${late.length}`);
for (const [index, fault] of late) if ((await runOne(fault, seed + index)) !== "held") failed++;
console.log(failed === 0 ? "\nEvery promise held." : `\n${failed} of ${faults.length} broke a promise.`);
process.exit(failed === 0 ? 0 : 1);

async function runOne(fault: Fault, itsSeed: number): Promise<"held" | "late" | "broken"> {
  const seconds = (ms: number) => (Number.isFinite(ms) ? `${(ms / 1_000).toFixed(1)} s` : "never");
  try {
    const { recoveredMs, accepted, note, broken } = await fault.run(seededRandom(itsSeed));
    console.log(
      `| ${fault.name} | ${seconds(recoveredMs)} | ${seconds(fault.limitMs)} | ${accepted} | ${broken.length} | ${note} |`,
    );
    for (const fault of broken.slice(0, 12)) console.error(`    ${fault}`);
    if (broken.length > 0) return "broken";
    return recoveredMs <= fault.limitMs ? "held" : "late";
  } catch (error) {
    console.log(`| ${fault.name} | never | ${seconds(fault.limitMs)} | ? | ? | ${(error as Error).message} |`);
    console.error(error);
    return "broken";
  }
}
