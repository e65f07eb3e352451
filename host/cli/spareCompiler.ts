import { setFlagsFromString } from "node:v8";

/** Of the V8 this was measured on; another may weigh its compiler otherwise, and complains of a word it does not know. */
const measuredOn = "11.";

/**
 * Lets V8 optimise a function four times later, in this thread and in all that it starts. A verb runs for seconds in three fresh
 * threads: as V8 is set for long-lived programs, optimising takes a third of their processor time and hardly pays back. `voice`
 * on example A, processor time of all threads: 19.8 s as set by default, 18.5 s so, 18.7 s eight times later. Inlining less as well
 * saved another 0.2 s once, and would slow down the minute that ranges take.
 */
export function spareCompiler(): void {
  if (process.versions.v8.startsWith(measuredOn)) setFlagsFromString("--interrupt-budget=270000");
}
