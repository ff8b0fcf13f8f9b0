import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import type { Report } from "../../core/report/report.js";
import type { Requirement } from "../../core/requirement/requirement.js";
import { bundledFolder } from "../../worker/store/grade-files.js";
import { EVERY_OWNER } from "../../worker/store/records.js";
import { temporaryFolder } from "../support/invented.js";
import type { Fault } from "./fault.js";
import { buildWorld, type World } from "./world.js";

const GRADE = "astm-a240/2007e1/s30403";
/** Between the two limits: what the old grade passes, the new one fails. */
const CARBON = "0.025";
const LIMITS = { old: "0.030", new: "0.020" } as const;
type Version = keyof typeof LIMITS;

export const rollingUpdate: Fault = {
  name: "rolling update between two versions of a grade, both at work for a while",
  limitMs: 30_000,
  quick: true,
  async run() {
    const [world, folder] = await Promise.all([buildWorld(), temporaryFolder()]);
    const settingsOf = async (version: Version) => ({
      FAULTS_VERIFIER: "real",
      HEATGATE_GRADES: await gradeFolder(folder.path, version),
    });
    const oldWorker = await world.startWorker(await settingsOf("old"));
    await submitSome(world, "first");
    await world.settle(this.limitMs);
    const starting = world.startWorker(await settingsOf("new"));
    while (!(await Promise.race([starting.then(() => true), sleep(200).then(() => false)])))
      await submitSome(world, "a", 1);
    await submitSome(world, "both");
    const stopping = oldWorker.kill("SIGTERM");
    await submitSome(world, "while the old one stops");
    await stopping;
    const afterOld = world.accepted.length;
    await submitSome(world, "last");
    const recoveredMs = await world.settle(this.limitMs * 2);

    const broken = [...(await world.check())];
    const judged: string[] = [];
    const digests = new Map<string, Set<string>>();
    for (const id of world.accepted) {
      const stored = await world.stores.records.getReport(id, EVERY_OWNER);
      if (!stored) continue;
      const { heats, library } = JSON.parse(stored.json) as Report;
      const finding = heats[0]?.findings.find(({ quantity }) => quantity === "C");
      const outcome = String(finding?.outcome);
      judged.push(outcome);
      const digest = String(library.find((used) => used.id === GRADE)?.digest);
      digests.set(digest, (digests.get(digest) ?? new Set()).add(outcome));
    }
    // A report names the version it was held to: each digest stands for one outcome.
    if (digests.size !== 2) broken.push(`${digests.size} versions are named: ${[...digests.keys()].join(", ")}`);
    for (const [digest, outcomes] of digests)
      if (outcomes.size !== 1 || outcomes.has("undefined"))
        broken.push(`${digest} gave ${[...outcomes].join(" and ")}`);
    if (judged.slice(afterOld).some((outcome) => outcome !== "fail")) broken.push("an old report after the old worker");
    await world.end();
    await folder.remove();
    const count = (wanted: string) => judged.filter((outcome) => outcome === wanted).length;
    return {
      recoveredMs,
      accepted: judged.length,
      note: `${count("pass")} by the old one, ${count("fail")} by the new one`,
      broken,
    };
  },
};

async function submitSome(world: World, name: string, count = 10): Promise<void> {
  const requirement: Requirement = {
    requirement: 1,
    name: "rolling update",
    grades: [{ standard: "ASTM A240/A240M", grade: "304L" }],
  };
  for (let number = 0; number < count; number++) {
    const heat = `${name} ${number} ${world.accepted.length}`;
    await world.submit(`Heat;C %\n${heat.replaceAll(" ", "")};${CARBON}\n`, world.receiver.url, { requirement });
  }
}

/** A folder whose file takes the place of the bundled one, with another limit for carbon. */
async function gradeFolder(within: string, version: Version): Promise<string> {
  const folder = join(within, version);
  const file = join(folder, `${GRADE}.json`);
  await mkdir(dirname(file), { recursive: true });
  const grade = JSON.parse(await readFile(join(bundledFolder(), `${GRADE}.json`), "utf8"));
  const limits = grade.limits.map((limit: { id: string }) =>
    limit.id === "C" ? { ...limit, max: LIMITS[version] } : limit,
  );
  await writeFile(file, JSON.stringify({ ...grade, limits }));
  return folder;
}
