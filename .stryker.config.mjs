const folder = process.env.MUTATED_FOLDER;

export default {
  mutate: [`core/${folder}/**/*.ts`],
  testRunner: "vitest",
  // Which tests run is said there and not by Stryker's testFiles: with it, mutants that act while a module loads are never switched on.
  vitest: { configFile: ".vitest.mutation.config.ts", related: false },
  coverageAnalysis: "perTest",
  concurrency: 2,
  // A busy machine is no endless loop.
  timeoutMS: 20_000,
  ignorePatterns: [".cache", "samples", "dist", "data", "coverage"],
  tempDirName: ".cache/stryker",
  reporters: ["clear-text", "json"],
  jsonReporter: { fileName: `.cache/mutation/${folder}.json` },
  incrementalFile: `.cache/mutation/${folder}-incremental.json`,
};
