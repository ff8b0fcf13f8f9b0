import { randomUUID } from "node:crypto";
import type { Decision, Decisions } from "../../worker/store/decisions.js";

export function memoryDecisions(): Decisions {
  const kept: Decision[] = [];
  return {
    async add({ owner: _owner, reportDigest: _digest, keyName: _key, ...decision }) {
      const added = { ...decision, id: randomUUID(), createdAt: new Date() };
      kept.push(added);
      return added;
    },
    async list(submission) {
      return kept.filter((decision) => decision.submission === submission);
    },
  };
}
