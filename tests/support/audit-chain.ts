import { type AuditEntry, auditHash, CHAIN_START } from "../../worker/store/audit-chain.js";

/** An audit trail of decisions on H1, H2 …, that holds together. */
export function chainOf(length: number, actor = "M. Aurland"): AuditEntry[] {
  const chain: AuditEntry[] = [];
  for (let number = 1; number <= length; number++) {
    const entry = {
      owner: "tarnholm",
      number,
      at: "2026-11-25T09:00:00.000Z",
      actor,
      kind: "heat.decided",
      subject: "a",
      details: { heat: `H${number}` },
      previous: chain.at(-1)?.hash ?? CHAIN_START,
    } as const;
    chain.push({ ...entry, hash: auditHash(entry) });
  }
  return chain;
}
