import { randomUUID } from "node:crypto";
import type { TrialRecord, Trials } from "../../worker/store/trials.js";

/** Trials that nobody answers, unless `answer` does. */
export function memoryTrials(answer?: (trial: TrialRecord) => Partial<TrialRecord>): Trials {
  const kept = new Map<string, TrialRecord>();
  return {
    async create({ kind, submission }) {
      const trial: TrialRecord = { id: randomUUID(), kind, submission, state: "accepted", createdAt: new Date() };
      kept.set(trial.id, { ...trial, ...answer?.(trial) });
      return trial;
    },
    async get(id, submission) {
      const trial = kept.get(id);
      return trial?.submission === submission ? trial : undefined;
    },
    waitUntilFinal: async (trial) => kept.get(trial.id) ?? trial,
  };
}
