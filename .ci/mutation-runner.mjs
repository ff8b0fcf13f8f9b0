/**
 * Stryker's test runner for core: it runs the tests that cover a mutant in its own process, each file loaded afresh with the mutant
 * switched on. Starting a worker of Vitest for every mutant takes some hundred times as long.
 */
import path from "node:path";
import { performance } from "node:perf_hooks";
import { pathToFileURL } from "node:url";
import { commonTokens, declareClassPlugin, PluginKind } from "@stryker-mutator/api/plugin";
import {
  DryRunStatus,
  determineHitLimitReached,
  TestStatus,
  toMutantRunResult,
} from "@stryker-mutator/api/test-runner";
import { glob } from "tinyglobby";

const BUNDLES = ".cache/mutation-bundles";

class InProcessRunner {
  static inject = [commonTokens.options];
  #loads = 0;
  #collect;
  /** Milliseconds that a file takes to load and run: a mutant is tried by the cheap ones first. */
  #costs = new Map();

  capabilities() {
    // Every file is loaded for every mutant.
    return { reloadEnvironment: true };
  }

  async init() {
    // The sandbox's own, which its bundles import.
    ({ collect: this.#collect } = await import(pathToFileURL(path.resolve(".ci/mutation-vitest.mjs")).href));
    const files = (await glob("**/*.mjs", { cwd: BUNDLES })).sort();
    for (const file of files) this.#costs.set(file, 0);
  }

  async dryRun() {
    const state = strykerState();
    state.activeMutant = undefined;
    state.mutantCoverage = undefined;
    const perTest = {};
    const tests = [];
    for (const file of this.#costs.keys()) {
      const begun = performance.now();
      const results = await this.#run(file);
      this.#costs.set(file, performance.now() - begun);
      tests.push(...results);
      // What runs while a file loads and prepares is there for each of its tests.
      const { static: loading = {}, perTest: own = {} } = state.mutantCoverage ?? {};
      for (const { id } of results) perTest[id] = sumOf(loading, own[id] ?? {});
      state.mutantCoverage = undefined;
    }
    return { status: DryRunStatus.Complete, tests, mutantCoverage: { static: {}, perTest } };
  }

  async mutantRun({ activeMutant, testFilter, hitLimit }) {
    const state = strykerState();
    Object.assign(state, { activeMutant: activeMutant.id, hitCount: 0, hitLimit });
    const wanted = testFilter && new Set(testFilter);
    const files = [...this.#costs].sort(([, left], [, right]) => left - right).map(([file]) => file);
    const tests = [];
    for (const file of files) {
      if (wanted && !testFilter.some((id) => id.startsWith(`${file}#`))) continue;
      tests.push(...(await this.#run(file, wanted)));
      if (tests.some(({ status }) => status === TestStatus.Failed)) break;
    }
    state.activeMutant = undefined;
    const limited = determineHitLimitReached(state.hitCount, hitLimit);
    return toMutantRunResult(limited ?? { status: DryRunStatus.Complete, tests });
  }

  /** Runs the wanted tests of one file until one fails. A file that cannot be loaded or prepared has failed. */
  async #run(file, wanted) {
    const state = strykerState();
    const results = [];
    const attempt = async (name, run) => {
      const id = `${file}#${name}`;
      const begun = performance.now();
      const told = { id, name: `${file} ${name}` };
      try {
        await run();
        return { ...told, timeSpentMs: performance.now() - begun, status: TestStatus.Success };
      } catch (error) {
        const failureMessage = String(error?.stack ?? error);
        return { ...told, timeSpentMs: performance.now() - begun, status: TestStatus.Failed, failureMessage };
      }
    };
    let loaded;
    const loading = await attempt("is loaded", async () => {
      const { href } = pathToFileURL(path.resolve(BUNDLES, file));
      loaded = await this.#collect(() => import(`${href}?${++this.#loads}`));
      for (const prepare of loaded.before) await prepare();
    });
    if (loading.status === TestStatus.Failed) return [loading];
    for (const { name, run } of loaded.tests) {
      if (wanted && !wanted.has(`${file}#${name}`)) continue;
      state.currentTestId = `${file}#${name}`;
      const result = await attempt(name, run);
      state.currentTestId = undefined;
      results.push(result);
      if (wanted && result.status === TestStatus.Failed) break;
    }
    return results;
  }
}

/** Where Stryker's instrumented code looks for the active mutant and counts what runs. */
function strykerState() {
  globalThis.__stryker__ ??= {};
  return globalThis.__stryker__;
}

function sumOf(left, right) {
  const sum = { ...left };
  for (const [mutant, count] of Object.entries(right)) sum[mutant] = (sum[mutant] ?? 0) + count;
  return sum;
}

export const strykerPlugins = [declareClassPlugin(PluginKind.TestRunner, "in-process", InProcessRunner)];
