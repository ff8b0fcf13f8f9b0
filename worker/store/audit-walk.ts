import { type AuditEntry, CHAIN_START, type ChainHead, faultInChain } from "./audit-chain.js";

/** What walking along one client's chain showed. */
export interface WalkedChain {
  readonly client: string;
  /** Number of the first entry that was looked at: 1, or where a saved part begins. */
  readonly from: number;
  /** Where the chain stands; with a fault, the last entry before it. */
  readonly head: ChainHead;
  readonly fault?: string;
}

/**
 * Follows a chain page by page. A chain alone cannot show that its end was cut off, or that all of it was written anew with fitting
 * hashes; a head of it that was kept elsewhere can.
 * @param kept a head that this chain had earlier
 */
export async function walkChain(
  client: string,
  pages: AsyncIterable<readonly AuditEntry[]> | Iterable<readonly AuditEntry[]>,
  kept?: ChainHead,
): Promise<WalkedChain> {
  let head: ChainHead = { number: 0, hash: CHAIN_START };
  let from: number | undefined;
  let atKept: string | undefined;
  for await (const entries of pages) {
    const [first] = entries;
    if (!first) continue;
    if (from === undefined) {
      from = first.number;
      // A saved part may begin in the middle; what its first entry follows from is then taken as given.
      if (from > 1) head = { number: from - 1, hash: first.previous };
    }
    if (kept && head.number === kept.number) atKept = head.hash;
    const stranger = entries.find(({ owner }) => owner !== client);
    const fault = stranger ? `entry ${stranger.number} is another client's` : faultInChain(entries, head);
    if (fault !== undefined) return { client, from, head, fault };
    atKept ??= entries.find(({ number }) => number === kept?.number)?.hash;
    const { number, hash } = entries.at(-1)!;
    head = { number, hash };
  }
  const fault = kept && faultAgainst(kept, head, from, atKept);
  return { client, from: from ?? 1, head, ...(fault !== undefined && { fault }) };
}

function faultAgainst(kept: ChainHead, head: ChainHead, from = 1, atKept: string | undefined): string | undefined {
  if (kept.number > head.number) {
    return `its end was cut off: it had ${kept.number} entries when the head was kept, and has ${head.number}`;
  }
  if (atKept === undefined)
    return `the kept head is entry ${kept.number}, before entry ${from} with which this part begins`;
  if (atKept !== kept.hash) {
    return `it was written anew: entry ${kept.number} is not the one that was there when the head was kept`;
  }
  return undefined;
}
