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
    // modules hold no state of their own: loading them once for all files of a worker halves the time of the whole
    isolate: false,
  },
});
