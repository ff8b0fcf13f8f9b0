import { createHash } from "node:crypto";
import { setTimeout as sleep } from "node:timers/promises";
import { STARTS_ALLOWED } from "../../worker/jobs/judge-submission.js";
import { openEmbedded } from "../../worker/store/open-embedded.js";
import { findStarts } from "../../worker/store/progress.js";
import { EVERY_OWNER } from "../../worker/store/records.js";
import { startChild } from "../support/child.js";
import { embeddedFolder } from "../support/embedded-folder.js";
import { namingVerifier } from "../support/invented.js";
import { startTestWorker } from "../support/running-worker.js";
import type { Fault } from "./fault.js";

const sha256 = (bytes: Uint8Array | string) => createHash("sha256").update(bytes).digest("hex");

function killedAtRandom(rounds: number, quick: boolean): Fault {
  return {
    name: `embedded process killed at random, ${rounds} times on one folder`,
    limitMs: 60_000,
    quick,
    async run(random) {
      const folder = await embeddedFolder();
      const acknowledged: string[] = [];
      for (let round = 0; round < rounds; round++) {
        const child = startChild("../faults/embedded-process.ts", [folder.path]);
        // Some are killed while they open the folder, most in the middle of work.
        if (random() < 0.8) await child.until((lines) => lines.includes("working"));
        await sleep(random() * 2_000);
        await child.kill("SIGKILL");
        acknowledged.push(...child.lines.filter((line) => line !== "working"));
      }

      const opening = performance.now();
      const stores = await openEmbedded(folder.path, "https://heatgate.example");
      const openedMs = Math.round(performance.now() - opening);
      const worker = await startTestWorker(stores, namingVerifier());
      const broken: string[] = [];
      let blamed = 0;
      for (const id of acknowledged) {
        const submission = await stores.records.waitUntilFinal(id, 60_000);
        const report = await stores.records.getReport(id, EVERY_OWNER);
        // What three deaths met at work is taken for their cause, as is promised. Whoever handed it in is told that.
        if (
          submission?.failure?.code === "gave-up-after-crashes" &&
          (await findStarts(stores.pool, id)).count === STARTS_ALLOWED
        )
          blamed++;
        else if (submission?.state !== "done") broken.push(`${id} is ${submission?.state ?? "lost"}`);
        else if (report?.digest !== submission.reportDigest || sha256(report!.json) !== report!.digest) {
          broken.push(`${id} has another report than it says`);
        }
        const told = await stores.pool.query(
          "SELECT FROM heatgate.event WHERE submission = $1 AND type LIKE 'submission.%'",
          [id],
        );
        if (told.rows.length !== 1) broken.push(`${id} has ${told.rows.length} events`);
        for (const { sha256: name } of submission?.documents ?? []) {
          if (sha256(await stores.documents.get(name)) !== name) broken.push(`a document of ${id} is damaged`);
        }
      }
      const recoveredMs = performance.now() - opening;
      const { rows } = await stores.pool.query("SELECT count(*)::integer AS more FROM heatgate.submission");
      await worker.stop();
      await stores.close();
      await folder.remove();
      const more = rows[0].more - acknowledged.length;
      const note = `opened in ${openedMs} ms; ${more} more were kept than acknowledged; ${blamed} met three deaths at work`;
      return { recoveredMs, accepted: acknowledged.length, note, broken };
    },
  };
}

export const embeddedFaults = (short: boolean): readonly Fault[] => [killedAtRandom(short ? 3 : 50, true)];
