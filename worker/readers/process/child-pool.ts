import type { ReadBudgets } from "../budgets.js";
import type { ReadProblemCode } from "../problem.js";
import type { ReadAnswer, ReadJob, TakeLine } from "./message.js";
import { type ReaderChild, startReaderChild } from "./reader-child.js";

export interface ChildPoolOptions {
  readonly children: number;
  readonly documentsPerChild: number;
  readonly budgets: ReadBudgets;
}

export interface ChildPool {
  run(job: ReadJob, takeLine: TakeLine): Promise<ReadAnswer>;
  close(): Promise<void>;
}

/** Refused before a parser saw the bytes, so the child is as good as before. */
const SEEN_AT_A_GLANCE: ReadonlySet<ReadProblemCode> = new Set(["unsupported-type", "legacy-workbook"]);

/** A fixed number of warm children; a used-up or failed one is replaced at once, so that the next document finds one waiting. */
export function createChildPool(options: ChildPoolOptions): ChildPool {
  const idle: ReaderChild[] = [];
  const busy = new Set<ReaderChild>();
  const waiting: { resolve(child: ReaderChild): void; reject(error: Error): void }[] = [];
  let closed = false;

  for (let index = 0; index < options.children; index++) offer(startReaderChild(options.budgets));

  return {
    async run(job, takeLine) {
      if (closed) throw closedError();
      const child = await take();
      busy.add(child);
      const result = await child.run(job, takeLine);
      busy.delete(child);
      release(child, result.ok || SEEN_AT_A_GLANCE.has(result.problem.code));
      return result;
    },
    async close() {
      closed = true;
      for (const { reject } of waiting.splice(0)) reject(closedError());
      await Promise.all([...idle, ...busy].map((child) => child.stop()));
    },
  };

  async function take(): Promise<ReaderChild> {
    const child = idle.shift();
    return child ?? new Promise((resolve, reject) => waiting.push({ resolve, reject }));
  }

  function release(child: ReaderChild, healthy: boolean): void {
    if (closed) return;
    if (healthy && child.documentsRead() < options.documentsPerChild) {
      offer(child);
      return;
    }
    void child.stop();
    offer(startReaderChild(options.budgets));
  }

  function offer(child: ReaderChild): void {
    const next = waiting.shift();
    if (next) next.resolve(child);
    else idle.push(child);
  }
}

function closedError(): Error {
  return new Error("the reader is closed");
}
