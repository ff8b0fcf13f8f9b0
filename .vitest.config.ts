import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    // Two cores are the smallest machine this runs on; tests start real databases and processes.
    maxWorkers: 2,
  },
});
