/** Jobs that show how a crew behaves, for its contract; no part of the workbench. */
import { type Context, done, failed, type Outcome } from "#engine/numerics";

let calls = 0;

export const contractJobs = {
  /** A part of a longer array, the whole of one, and the same one again. */
  arrays: (
    input: Float64Array,
  ): Outcome<{ part: Float64Array; whole: Float64Array; again: Float64Array }> => {
    const long = new Float64Array(input.length + 997).fill(7);
    long.set(
      input.map((x) => 2 * x),
      10,
    );
    const whole = input.map((x) => 3 * x);
    return done({ part: long.subarray(10, 10 + input.length), whole, again: whole }, [
      { code: "heard", detail: "two and three times" },
    ]);
  },
  echo: (input: string): Outcome<string> => done(input),
  /** Works for `time` ms, or until it is called off. */
  work: ({ time }: { readonly time: number }, ctx: Context): Outcome<number> => {
    const begun = Date.now();
    for (let turns = 0; ; turns++) {
      if (ctx.cancelled()) return failed("cancelled", `after ${turns} turns`);
      const passed = Date.now() - begun;
      ctx.progress(Math.min(1, passed / time));
      if (passed >= time) return done(turns);
    }
  },
  refuse: (detail: string): Outcome<never> => failed("refused", detail),
  stumble: (message: string): Outcome<never> => {
    calls++;
    throw new Error(message);
  },
  /** How often this worker has been called by this name or has stumbled. */
  calls: (_: null): Outcome<number> => done(++calls),
  kernels: (_: null, ctx: Context): Outcome<string> => done(ctx.kernels?.(16).name ?? "none"),
};
