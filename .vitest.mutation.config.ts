import { defineConfig } from "vitest/config";

/** Only the mutated folder's own tests count: a rule that merely some test far away would notice is not tested. */
export default defineConfig({
  test: { include: [`tests/core/${process.env.MUTATED_FOLDER}/**/*.test.ts`], testTimeout: 30_000 },
});
