import { createHash, randomUUID } from "node:crypto";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Report } from "../../core/report/report.js";
import { endHeartbeat, type HeartbeatOutcome } from "../store/heartbeats.js";
import { EVERY_OWNER, type StoredDocument } from "../store/records.js";
import type { Stores } from "../store/stores.js";
import { HEARTBEAT_DOCUMENT, HEARTBEAT_REQUIREMENT, heartbeatFault } from "./heartbeat-document.js";

export interface Beat {
  readonly outcome: HeartbeatOutcome;
  readonly detail?: string;
}

/**
 * Hands a known document in and compares the verdict: the whole way through document store, records, queue, reader, judge. The
 * submission has no owner and no receiver, so no client meets it, and it is taken away afterwards.
 */
export async function beat(stores: Omit<Stores, "close">, withinMs: number): Promise<Beat> {
  const { pool, records } = stores;
  const document = await keepDocument(stores.documents);
  const { id } = await records.createSubmission({
    requirement: HEARTBEAT_REQUIREMENT,
    documents: [document],
    isHeartbeat: true,
  });
  const submission = await records.waitUntilFinal(id, withinMs);
  const result = submission?.finishedAt
    ? await judge(stores, id)
    : { outcome: "late" as const, detail: `The heartbeat document was not judged within ${withinMs / 1_000} s.` };
  await endHeartbeat(pool, id, result.outcome, result.detail);
  return result;
}

async function judge({ records }: Pick<Stores, "records">, id: string): Promise<Beat> {
  const report = await records.getReport(id, EVERY_OWNER);
  const fault = report
    ? heartbeatFault(JSON.parse(report.json) as Report)
    : `The heartbeat document was not judged: ${(await records.getSubmission(id))?.failure?.code}.`;
  return fault === undefined ? { outcome: "right" } : { outcome: "wrong", detail: fault };
}

/** Each heartbeat brings a file of its own; the same bytes are kept once. */
async function keepDocument(documents: Stores["documents"]): Promise<StoredDocument> {
  const bytes = Buffer.from(HEARTBEAT_DOCUMENT);
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  const folder = await mkdtemp(join(tmpdir(), "heatgate-heartbeat-"));
  try {
    const path = join(folder, randomUUID());
    await writeFile(path, bytes);
    await documents.put(sha256, path);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
  return { name: "heartbeat.csv", sha256, bytes: bytes.length, mediaType: "text/csv" };
}
