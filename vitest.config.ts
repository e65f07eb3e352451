import { defineConfig } from "vitest/config";

/** Two projects: unit tests beside the code, and the slower sourced proofs. Neither asserts on wall-clock time. */
export default defineConfig({
  test: {
    projects: [
      {
        extends: true,
        test: { name: "unit", include: ["{engine,host,kernels,tools,proofs,examples}/**/*.test.ts"] },
      },
      {
        extends: true,
        test: {
          name: "proofs",
          include: ["proofs/**/*.proof.ts"],
          testTimeout: 300_000,
          hookTimeout: 300_000,
        },
      },
    ],
    testTimeout: 120_000,
    maxWorkers: 2,
  },
});
