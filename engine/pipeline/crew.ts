import type { Context, Outcome } from "#engine/numerics";

/**
 * Pure functions by kind: what may be sent to another worker. Input and output are plain data, so that both can be cloned; their
 * arrays may be shared with whoever else was sent them, and are never written to.
 */
export type JobTable = Readonly<Record<string, (input: never, ctx: Context) => Outcome<unknown>>>;

export type JobKind<T extends JobTable> = keyof T & string;
export type JobInput<T extends JobTable, K extends JobKind<T>> = Parameters<T[K]>[0];
export type JobOutput<T extends JobTable, K extends JobKind<T>> =
  ReturnType<T[K]> extends Outcome<infer V> ? V : never;

/** Who does the jobs: one pair of hands in this process, or several workers. Results do not depend on which. */
export interface Crew<T extends JobTable> {
  /** How many jobs really run at the same time. */
  readonly hands: number;
  /**
   * `lane`: the hand that is to do it, counted round the hands there are; absent: whichever is free first. What belongs
   * together is quickest in one hand, because each hand compiles for itself what it runs.
   */
  run<K extends JobKind<T>>(
    kind: K,
    input: JobInput<T, K>,
    ctx: Context,
    lane?: number,
  ): Promise<Outcome<JobOutput<T, K>>>;
}

/** Does every job at once in this process, one after the other. */
export function alone<T extends JobTable>(jobs: T): Crew<T> {
  return {
    hands: 1,
    run: async (kind, input, ctx) => jobs[kind]!(input as never, ctx) as Outcome<never>,
  };
}
