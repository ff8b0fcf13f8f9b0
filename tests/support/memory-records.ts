import { randomUUID } from "node:crypto";
import { EventEmitter, once } from "node:events";
import { finalData } from "../../worker/store/event-data.js";
import {
  type Backlog,
  BadCursor,
  type Erasure,
  type ErasureRequest,
  type EventRecord,
  type Failure,
  type FinishedReport,
  IdempotencyKeyReused,
  type ListFilter,
  type NewSubmission,
  type Page,
  type Records,
  type SubmissionRecord,
} from "../../worker/store/records.js";

type Kept = {
  record: SubmissionRecord;
  report?: FinishedReport;
  readonly callbackSecret: string | undefined;
  readonly content: string | undefined;
};

/** The submissions half of `Records`, behaving, in memory. Tests finish submissions by `finish` and `fail` themselves. */
export class MemoryRecords implements Partial<Records> {
  readonly kept = new Map<string, Kept>();
  /** Set to have the next call of createSubmission or check throw: the database is away. */
  unreachable: Error | undefined;
  readonly #keys = new Map<string, { readonly id: string; readonly fingerprint: string }>();
  readonly #erasures = new Map<string, Erasure & { readonly owner: string }>();
  readonly #events: EventRecord[] = [];
  readonly #changes = new EventEmitter().setMaxListeners(0);

  async createSubmission(submission: NewSubmission): Promise<SubmissionRecord> {
    if (this.unreachable) throw this.unreachable;
    const { callback, owner, requirement, documents, tags, idempotency, content } = submission;
    const earlier = idempotency && this.#keys.get(keyName(owner, idempotency.key));
    if (earlier && earlier.fingerprint !== idempotency.fingerprint) throw new IdempotencyKeyReused();
    if (earlier) return this.kept.get(earlier.id)!.record;
    const record: SubmissionRecord = {
      id: randomUUID(),
      state: "accepted",
      createdAt: new Date(),
      requirement,
      documents,
      tags: tags ?? {},
      ...(owner === undefined ? {} : { owner }),
      ...(submission.correction ? { correction: submission.correction } : {}),
      ...(callback ? { callbackUrl: callback.url } : {}),
    };
    this.kept.set(record.id, { record, callbackSecret: callback?.secret, content });
    if (idempotency) {
      this.#keys.set(keyName(owner, idempotency.key), { id: record.id, fingerprint: idempotency.fingerprint });
    }
    this.#changes.emit("created", record);
    return record;
  }

  async getSubmission(id: string, owner?: string): Promise<SubmissionRecord | undefined> {
    const record = this.kept.get(id)?.record;
    return owner === undefined || record?.owner === owner ? record : undefined;
  }

  async findByIdempotencyKey(owner: string | undefined, key: string) {
    const earlier = this.#keys.get(keyName(owner, key));
    if (!earlier) return undefined;
    const erasure = await this.getErasure(earlier.id);
    if (erasure) return { erasure, fingerprint: earlier.fingerprint };
    const { record, callbackSecret } = this.kept.get(earlier.id)!;
    return { submission: record, fingerprint: earlier.fingerprint, ...(callbackSecret ? { callbackSecret } : {}) };
  }

  async findSameContent(owner: string, content: string): Promise<SubmissionRecord | undefined> {
    const same = [...this.kept.values()].filter((kept) => kept.content === content && kept.record.owner === owner);
    return same.map(({ record }) => record).findLast(({ state }) => state !== "failed");
  }

  async listSubmissions(filter: ListFilter, limit: number, cursor?: string): Promise<Page<SubmissionRecord>> {
    const all = [...this.kept.values()].map(({ record }) => record).reverse();
    const start = cursor === undefined ? 0 : all.findIndex(({ id }) => id === cursor) + 1;
    if (cursor !== undefined && start === 0) throw new BadCursor();
    const found = all.slice(start).filter((record) => fits(record, filter));
    const items = found.slice(0, limit);
    return found.length > limit ? { items, next: items.at(-1)!.id } : { items };
  }

  async listEvents(owner: string | undefined, after: number, limit: number): Promise<readonly EventRecord[]> {
    const isTheirs = (id: string) => owner === undefined || this.kept.get(id)?.record.owner === owner;
    return this.#events
      .filter(({ sequence, submission }) => sequence > after && isTheirs(submission ?? ""))
      .slice(0, limit);
  }

  async eventHorizon() {
    return 0;
  }

  async erase(id: string, owner: string, asked: ErasureRequest): Promise<Erasure | undefined> {
    const record = await this.getSubmission(id, owner);
    if (!record) return undefined;
    const documents = record.documents.map(({ sha256 }) => sha256);
    const erasure = { submission: id, handedInAt: record.createdAt, erasedAt: new Date(), documents, ...asked };
    this.#erasures.set(id, { ...erasure, owner });
    this.kept.delete(id);
    return erasure;
  }

  async getErasure(id: string, owner?: string): Promise<Erasure | undefined> {
    const found = this.#erasures.get(id);
    if (!found || (owner !== undefined && found.owner !== owner)) return undefined;
    const { owner: _, ...erasure } = found;
    return erasure;
  }

  async countBacklog(): Promise<Backlog> {
    const count = (state: string) => [...this.kept.values()].filter(({ record }) => record.state === state).length;
    return { accepted: count("accepted"), working: count("working"), oldestPendingSeconds: 0, deliveriesPending: 0 };
  }

  async listDeliveries() {
    return [];
  }

  async redeliver() {
    return false;
  }

  async getReport(id: string) {
    const report = this.kept.get(id)?.report;
    return report && { ...report, signature: { keyId: "memory", signature: "A".repeat(86) } };
  }

  async getPictures(id: string) {
    return this.kept.get(id)?.report?.pictures ?? [];
  }

  async finish(id: string, report: FinishedReport): Promise<boolean> {
    this.#settle(
      id,
      { state: "done", verdict: report.verdict, heats: report.heats, reportDigest: report.digest },
      report,
    );
    return true;
  }

  async fail(id: string, failure: Failure): Promise<void> {
    this.#settle(id, { state: "failed", failure });
  }

  async waitUntilFinal(id: string, timeoutMs: number): Promise<SubmissionRecord | undefined> {
    const isFinal = () => ["done", "failed"].includes(this.kept.get(id)?.record.state ?? "");
    if (!isFinal()) {
      const signal = AbortSignal.timeout(timeoutMs);
      await once(this.#changes, `final ${id}`, { signal }).catch(() => undefined);
    }
    return this.kept.get(id)?.record;
  }

  async check(): Promise<void> {
    if (this.unreachable) throw this.unreachable;
  }

  /** Calls back for every new submission: the worker of a test. */
  onCreated(work: (record: SubmissionRecord) => void): void {
    this.#changes.on("created", work);
  }

  #settle(id: string, change: Partial<SubmissionRecord>, report?: FinishedReport): void {
    const kept = this.kept.get(id);
    if (!kept || kept.report) return;
    kept.record = { ...kept.record, ...change, finishedAt: new Date() };
    if (report) kept.report = report;
    const sequence = this.#events.length + 1;
    const type = report ? "submission.done" : "submission.failed";
    const createdAt = new Date();
    const data = finalData(
      id,
      report
        ? { type: "submission.done", report }
        : { type: "submission.failed", failure: change.failure ?? { code: "internal-fault", message: "It failed." } },
      "http://heatgate.example",
    );
    const body = JSON.stringify({ type, sequence, timestamp: createdAt.toISOString(), data });
    this.#events.push({ id: `event-${sequence}`, sequence, type, submission: id, createdAt, body });
    this.#changes.emit(`final ${id}`);
  }
}

function keyName(owner: string | undefined, key: string): string {
  return JSON.stringify([owner, key]);
}

function fits(record: SubmissionRecord, { owner, state, verdict, tags }: ListFilter): boolean {
  return (
    (owner === undefined || record.owner === owner) &&
    (state === undefined || record.state === state) &&
    (verdict === undefined || record.verdict === verdict) &&
    Object.entries(tags ?? {}).every(([name, value]) => record.tags[name] === value)
  );
}
