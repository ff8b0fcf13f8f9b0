import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { openDocumentsFolder } from "../../worker/store/documents-folder.js";
import { startChild } from "../support/child.js";
import { newSubmission, sha256, temporaryFolder, UNREAD_DOCUMENT } from "../support/invented.js";
import type { Fault } from "./fault.js";
import { buildWorld } from "./world.js";

const killedBeforeAnswering: Fault = {
  name: "api killed between commit and answer, sender tries again with the same Idempotency-Key",
  limitMs: 20_000,
  quick: true,
  async run() {
    const world = await buildWorld();
    const key = "order-4711";
    const api = startChild("../faults/accepting-process.ts", [key], world.environment);
    await api.until(() => false).catch(() => {});
    const again = newSubmission([UNREAD_DOCUMENT], { idempotency: { key, fingerprint: key } });
    const { id } = await world.stores.records.createSubmission(again);
    const { items } = await world.stores.records.listSubmissions({}, 10);
    await world.startWorker();
    const recoveredMs = await world.settle(this.limitMs);
    const done = await world.stores.records.getSubmission(id);
    await world.end();
    const broken: string[] = [];
    if (items.length !== 1) broken.push(`one request became ${items.length} submissions`);
    if (done?.state !== "done" || done.documents[0]?.sha256 === UNREAD_DOCUMENT.sha256) {
      broken.push(`the first request's submission is ${done?.state}`);
    }
    return { recoveredMs, accepted: 1, note: `${items.length} submission after two requests`, broken };
  },
};

const diskFull: Fault = {
  name: "disk of the document store is full",
  limitMs: 1_000,
  async run() {
    const folder = await temporaryFolder();
    const disk = join(folder.path, "disk");
    mkdirSync(disk);
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=256k", "tmpfs", disk]);
    const broken: string[] = [];
    try {
      const documents = openDocumentsFolder(join(disk, "documents"));
      const upload = (text: string) => {
        const path = join(folder.path, "upload");
        writeFileSync(path, text);
        return path;
      };
      const large = "x".repeat(1_000_000);
      const refusal = await documents
        .put(sha256(large), upload(large))
        .catch((error: NodeJS.ErrnoException) => error.code);
      if (refusal !== "ENOSPC") broken.push(`putting it answered ${refusal}`);
      const shelf = join(disk, "documents", sha256(large).slice(0, 2));
      if (existsSync(shelf) && readdirSync(shelf).length > 0) broken.push(`${readdirSync(shelf)} was left behind`);
      const started = performance.now();
      await documents.put(sha256("small"), upload("small"));
      if (Buffer.from(await documents.get(sha256("small"))).toString() !== "small")
        broken.push("what fits is not kept");
      return { recoveredMs: performance.now() - started, accepted: 1, note: `refused with ${refusal}`, broken };
    } finally {
      execFileSync("umount", [disk]);
      await folder.remove();
    }
  },
};

export const ACCEPTING_FAULTS: readonly Fault[] = [killedBeforeAnswering, diskFull];
