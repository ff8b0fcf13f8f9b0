const folder = process.env.MUTATED_FOLDER;

export default {
  mutate: [`core/${folder}/**/*.ts`],
  plugins: ["./.ci/mutation-runner.mjs"],
  testRunner: "in-process",
  buildCommand: "node .ci/mutation-bundles.mjs",
  // Node keeps every module that it has loaded.
  maxTestRunnerReuse: 300,
  coverageAnalysis: "perTest",
  concurrency: 2,
  // A busy machine is no endless loop: those are found by how often they come round.
  timeoutMS: 300_000,
  ignorePatterns: [".cache", "samples", "dist", "data", "coverage"],
  tempDirName: ".cache/stryker",
  reporters: ["clear-text", "json"],
  jsonReporter: { fileName: `.cache/mutation/${folder}.json` },
  incrementalFile: `.cache/mutation/${folder}-incremental.json`,
};
