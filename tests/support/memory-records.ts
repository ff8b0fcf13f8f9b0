import { randomUUID } from "node:crypto";
import { EventEmitter, once } from "node:events";
import type { Failure, FinishedReport, NewSubmission, Records, SubmissionRecord } from "../../worker/store/records.js";

type Kept = { record: SubmissionRecord; report?: FinishedReport };

/** The submissions half of `Records`, behaving, in memory. Tests finish submissions by `finish` and `fail` themselves. */
export class MemoryRecords implements Partial<Records> {
  readonly kept = new Map<string, Kept>();
  /** Set to have the next call of createSubmission or check throw: the database is away. */
  unreachable: Error | undefined;
  readonly #changes = new EventEmitter().setMaxListeners(0);

  async createSubmission(submission: NewSubmission): Promise<SubmissionRecord> {
    if (this.unreachable) throw this.unreachable;
    const { callback, owner, requirement, documents, tags } = submission;
    const record: SubmissionRecord = {
      id: randomUUID(),
      state: "accepted",
      createdAt: new Date(),
      requirement,
      documents,
      tags: tags ?? {},
      ...(owner === undefined ? {} : { owner }),
      ...(callback ? { callbackUrl: callback.url } : {}),
    };
    this.kept.set(record.id, { record });
    this.#changes.emit("created", record);
    return record;
  }

  async getSubmission(id: string): Promise<SubmissionRecord | undefined> {
    return this.kept.get(id)?.record;
  }

  async getReport(id: string) {
    return this.kept.get(id)?.report;
  }

  async finish(id: string, report: FinishedReport): Promise<void> {
    this.#settle(
      id,
      { state: "done", verdict: report.verdict, heats: report.heats, reportDigest: report.digest },
      report,
    );
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
    this.#changes.emit(`final ${id}`);
  }
}
