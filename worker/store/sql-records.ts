import type pg from "pg";
import type { WorkQueue } from "../queue/queue.js";
import { countBacklog } from "./backlog.js";
import { listDeliveries, listEvents, redeliver } from "./deliveries.js";
import { eraseSubmission } from "./erase-submission.js";
import { getErasure } from "./erasures.js";
import { openFinalSignal } from "./final-signal.js";
import { CLOCKS_APART_MS, isId } from "./new-id.js";
import { getPictures } from "./pictures.js";
import { fail, finish, markInterrupted, markWorking } from "./progress.js";
import { type OwnerAsked, ownerParameter, type Records, type StoredReport, type SubmissionRecord } from "./records.js";
import { eventHorizon } from "./retention.js";
import type { Secrets } from "./signing/open-secrets.js";
import {
  createSubmission,
  findByIdempotencyKey,
  findSameContent,
  getSubmission,
  listSubmissions,
} from "./submissions.js";

/** `publicUrl`: how receivers reach this service; it begins the addresses in events. */
export function openRecords(pool: pg.Pool, queue: WorkQueue, publicUrl: string, secrets: Secrets): Records {
  const finalSignal = openFinalSignal(pool);
  return {
    createSubmission: (submission) => createSubmission({ pool, queue, sealer: secrets.sealer }, submission),
    getSubmission: (id, owner) => getSubmission(pool, id, owner),
    listSubmissions: (filter, limit, cursor) => listSubmissions(pool, filter, limit, cursor),
    findByIdempotencyKey: (owner, key) => findByIdempotencyKey(pool, secrets.sealer, owner, key),
    findSameContent: (owner, content) => findSameContent(pool, owner, content),
    getReport: (id, owner) => getReport(pool, id, owner),
    getPictures: (id, owner) => getPictures(pool, id, owner),
    markWorking: (id, startsAllowed) => markWorking(pool, id, startsAllowed),
    markInterrupted: (id) => markInterrupted(pool, id),
    finish: (id, report) => finish({ pool, queue, publicUrl, ...secrets }, id, report),
    fail: (id, failure) => fail({ pool, queue, publicUrl, ...secrets }, id, failure),
    waitUntilFinal,
    listEvents: (owner, after, limit) => listEvents(pool, owner, after, limit),
    listDeliveries: (submission, owner) => listDeliveries(pool, submission, owner),
    redeliver: (submission, owner) => redeliver(pool, queue, submission, owner),
    eventHorizon: (owner) => eventHorizon(pool, owner),
    erase: (id, owner, asked) => eraseSubmission({ pool, queue }, id, owner, asked),
    getErasure: (id, owner) => getErasure(pool, id, owner),
    countBacklog: () => countBacklog(pool),
    async check() {
      const { rows } = await pool.query("SELECT pg_is_in_recovery() AS standby, clock_timestamp() AS now");
      if (rows[0].standby) throw new Error("The database is a standby and takes no writes.");
      const apartMs = Math.abs(rows[0].now.getTime() - Date.now());
      if (apartMs > CLOCKS_APART_MS)
        throw new Error(
          `The clocks of this machine and of the database are ${Math.round(apartMs / 3_600_000)} h apart.`,
        );
    },
    close: () => finalSignal.close(),
  };

  async function waitUntilFinal(id: string, timeoutMs: number): Promise<SubmissionRecord | undefined> {
    const until = performance.now() + timeoutMs;
    for (;;) {
      const left = Math.max(0, until - performance.now());
      // Listening comes before the look, so that what happens between the two is not slept through.
      const signal = await finalSignal.listenFor(id, Math.min(left, POLL_MS));
      const submission = await getSubmission(pool, id).catch((error) => {
        signal.stop();
        throw error;
      });
      if (!submission || submission.finishedAt || left === 0) {
        signal.stop();
        return submission;
      }
      await signal.woken;
    }
  }
}

const POLL_MS = 2_000;

async function getReport(pool: pg.Pool, id: string, owner: OwnerAsked): Promise<StoredReport | undefined> {
  if (!isId(id)) return undefined;
  const { rows } = await pool.query(
    `SELECT r.json, r.digest, r.signing_key AS "keyId", r.signature
     FROM heatgate.report AS r JOIN heatgate.submission AS s ON s.id = r.submission
     WHERE s.id = $1 AND ($2::text IS NULL OR s.owner = $2)`,
    [id, ownerParameter(owner)],
  );
  if (!rows[0]) return undefined;
  const { json, digest, keyId, signature } = rows[0];
  return { json, digest, signature: { keyId, signature } };
}
