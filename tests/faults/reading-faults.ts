import { EVERY_OWNER } from "../../worker/store/records.js";
import type { Fault } from "./fault.js";
import { buildWorld } from "./world.js";

const NEIGHBOURS = 20;

/** A child has 64 MiB and 20 s in this worker. The text is honest, only too much: 20 MB of fields that all have to be kept. */
const greedyReading: Fault = {
  name: "documents that need more memory or time than their reader has, among honest ones",
  // On a busy machine each of the greedy ones takes its whole 20 s, one after the other, and a child is started anew after it.
  limitMs: 90_000,
  quick: true,
  async run() {
    const world = await buildWorld();
    const worker = await world.startWorker({ FAULTS_VERIFIER: "real" });
    const greedy: (string | undefined)[] = [];
    const handedIn = performance.now();
    for (let number = 0; number < NEIGHBOURS; number++) {
      if (number % 10 === 3) greedy.push(await world.submit(tooMuch(number)));
      await world.submit(`Heat;C;Mn\nH${number};0,021;1,52\n`);
    }
    await world.settle(this.limitMs);
    const recoveredMs = performance.now() - handedIn;
    const broken = [...(await world.check())];
    const problems = new Set<string>();
    for (const id of world.accepted) {
      const report = JSON.parse((await world.stores.records.getReport(id, EVERY_OWNER))?.json ?? "{}");
      const problem = report.documents?.[0]?.doubts[0]?.code;
      if (greedy.includes(id)) problems.add(String(problem));
      else if (problem !== undefined || report.heats?.length !== 1) broken.push(`${id} was honest, and is ${problem}`);
    }
    if (problems.has("undefined")) broken.push("a greedy document was read, so nothing was tested");
    if (worker.process.exitCode !== null) broken.push("the worker died");
    const accepted = world.accepted.length;
    await world.end();
    return { recoveredMs, accepted, note: `refused as ${[...problems].join(", ")}; the worker lives`, broken };
  },
};

function tooMuch(number: number): string {
  const row = `H${number};${Array.from({ length: 60 }, (_, column) => `0,${column}${number}`).join(";")}\n`;
  return `Heat;${Array.from({ length: 60 }, (_, column) => `C${column}`).join(";")}\n${row.repeat(60_000)}`;
}

export const READING_FAULTS: readonly Fault[] = [greedyReading];
