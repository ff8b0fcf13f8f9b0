import { expect, it } from "vitest";
import { type AuditEntry, auditHash, type ChainHead } from "../../../worker/store/audit-chain.js";
import { walkChain } from "../../../worker/store/audit-walk.js";
import { chainOf } from "../../support/audit-chain.js";

const CHAIN = chainOf(6);
const headOf = (chain: readonly AuditEntry[], number: number): ChainHead => ({
  number,
  hash: chain[number - 1]!.hash,
});
const walk = (pages: readonly AuditEntry[][], kept?: ChainHead) => walkChain("tarnholm", pages, kept);

it("pages are one chain, and its head is the last entry", async () => {
  const walked = await walk([CHAIN.slice(0, 2), CHAIN.slice(2, 4), [], CHAIN.slice(4)]);
  expect(walked).toEqual({ client: "tarnholm", from: 1, head: headOf(CHAIN, 6) });
});

it.each([1, 2, 3, 6])("it goes on from the head that it had at entry %i", async (number) => {
  const pages = [CHAIN.slice(0, 3), CHAIN.slice(3)];
  expect((await walk(pages, headOf(CHAIN, number))).fault).toBeUndefined();
});

it("a saved part that begins after the kept head goes on from it", async () => {
  const part = await walk([CHAIN.slice(3)], headOf(CHAIN, 3));
  expect(part).toEqual({ client: "tarnholm", from: 4, head: headOf(CHAIN, 6) });
});

const stranger = { ...CHAIN[2]!, owner: "other" };
it.each<[what: string, pages: AuditEntry[][], kept: ChainHead | undefined, fault: RegExp]>([
  ["a page left out", [CHAIN.slice(0, 2), CHAIN.slice(4)], undefined, /^entry 3 is missing/],
  ["two pages that changed places", [CHAIN.slice(3), CHAIN.slice(0, 3)], undefined, /^entry 7 is missing/],
  ["a page that comes twice", [CHAIN.slice(0, 3), CHAIN.slice(0, 3)], undefined, /^entry 4 is missing/],
  [
    "an entry of another client, with a hash that fits",
    [[...CHAIN.slice(0, 2), { ...stranger, hash: auditHash(stranger) }]],
    undefined,
    /^entry 3 is another client's/,
  ],
  ["the last entries cut off", [CHAIN.slice(0, 4)], headOf(CHAIN, 6), /cut off: it had 6 entries .* has 4/],
  ["all entries gone", [], headOf(CHAIN, 6), /cut off: it had 6 entries .* has 0/],
  ["a chain written anew", [chainOf(6, "Somebody")], headOf(CHAIN, 4), /written anew: entry 4/],
  [
    "a part that begins after another entry",
    [CHAIN.slice(3)],
    { number: 3, hash: CHAIN[1]!.hash },
    /written anew: entry 3/,
  ],
  ["a part too late for the head", [CHAIN.slice(4)], headOf(CHAIN, 2), /kept head is entry 2, before entry 5/],
])("%s is found", async (_what, pages, kept, fault) => {
  expect((await walk(pages, kept)).fault).toMatch(fault);
});

it("without a kept head a chain that was cut off or written anew looks whole, as the command's help says", async () => {
  expect((await walk([CHAIN.slice(0, 4)])).fault).toBeUndefined();
  expect((await walk([chainOf(6, "Somebody")])).fault).toBeUndefined();
});
