import { defineConfig } from "vitest/config";

/** Only the mutated folder's own tests count: a rule that merely some test far away would notice is not tested. */
export default defineConfig({
  test: {
    include: [`tests/core/${process.env.MUTATED_FOLDER}/**/*.test.ts`],
    // Tests of the data hold the numbers to each other; they take long and say little about the code.
    // Properties try hundreds of inputs: a rule is to be noticed by a case that names it.
    exclude: ["**/every-grade-judged.test.ts", "**/library-data.test.ts", "**/*properties.test.ts"],
    testTimeout: 30_000,
    isolate: false,
  },
});
