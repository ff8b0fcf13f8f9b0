import fc from "fast-check";
import { expect, it } from "vitest";
import { type AuditEntry, auditHash, faultInChain } from "../../../worker/store/audit-chain.js";
import { chainOf } from "../../support/audit-chain.js";

it("a chain as it was written holds together, from its start or from a head kept elsewhere", () => {
  const chain = chainOf(5);
  expect(faultInChain(chain)).toBeUndefined();
  expect(faultInChain(chain.slice(3), chain[2])).toBeUndefined();
});

it.each<[what: string, change: (chain: AuditEntry[]) => unknown, fault: RegExp]>([
  ["a changed word", (chain) => chain.splice(2, 1, { ...chain[2]!, actor: "Somebody" }), /entry 3 was changed/],
  ["a changed detail", (chain) => chain.splice(1, 1, { ...chain[1]!, details: {} }), /entry 2 was changed/],
  ["an entry taken out", (chain) => chain.splice(1, 1), /entry 2 is missing/],
  ["an entry taken from the start", (chain) => chain.shift(), /entry 1 is missing/],
  ["two entries that changed places", (chain) => chain.splice(1, 2, chain[2]!, chain[1]!), /entry 2 is missing/],
  [
    "a changed entry with a hash that fits it",
    (chain) => {
      const changed = { ...chain[1]!, reason: "", actor: "Somebody" };
      chain.splice(1, 1, { ...changed, hash: auditHash(changed) });
    },
    /entry 3 does not follow/,
  ],
])("%s is found", (_what, change, fault) => {
  const chain = chainOf(5);
  change(chain);
  expect(faultInChain(chain)).toMatch(fault);
});

it("no single character can be changed unseen", () => {
  const text = JSON.stringify(chainOf(3));
  fc.assert(
    fc.property(fc.nat(text.length - 1), fc.constantFrom(..."0a9z"), (place, character) => {
      fc.pre(text[place] !== character);
      let entries: AuditEntry[];
      try {
        entries = JSON.parse(text.slice(0, place) + character + text.slice(place + 1));
      } catch {
        return;
      }
      expect(faultInChain(entries)).toBeDefined();
    }),
  );
});
