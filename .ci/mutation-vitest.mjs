/**
 * What tests import from Vitest, collected instead of run: the runner runs those that a mutant needs. Only what the tests of core use
 * is here, and a test that uses more fails to load.
 */
import { format } from "node:util";
import { chai, JestAsymmetricMatchers, JestChaiExpect, JestExtend } from "@vitest/expect";

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);
export const expect = chai.expect;

let collected;

/** Loads a module of tests. @returns its tests in order, and what it asks to have done before them. */
export async function collect(load) {
  collected = { tests: [], before: [], names: [], seen: new Map() };
  await load();
  return collected;
}

export function describe(name, define) {
  collected.names.push(name);
  define();
  collected.names.pop();
}

export function beforeAll(run) {
  collected.before.push(run);
}

export function it(name, run) {
  const full = [...collected.names, name].join(" > ");
  const times = (collected.seen.get(full) ?? 0) + 1;
  collected.seen.set(full, times);
  collected.tests.push({ name: times === 1 ? full : `${full} (${times})`, run });
}

it.each = (rows) => (name, run) => {
  for (const row of rows) {
    const values = Array.isArray(row) ? row : [row];
    const wanted = name.replaceAll("%%", "").match(/%[sdifjoOc]/g)?.length ?? 0;
    it(format(name, ...values.slice(0, wanted)), () => run(...values));
  }
};

/** @alias */
export const test = it;
