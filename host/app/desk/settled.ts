/** An answer, or why there is none, in the form of the engine's outcomes. */
export type Settled<A> =
  | { readonly ok: true; readonly value: A }
  | { readonly ok: false; readonly reason: string; readonly detail: string };

/** Never rejects. */
export async function settled<A>(answer: Promise<A>): Promise<Settled<A>> {
  try {
    return { ok: true, value: await answer };
  } catch (error) {
    return { ok: false, reason: "worker", detail: error instanceof Error ? error.message : String(error) };
  }
}

/** The same of an answer that is itself an outcome: one level of why there is none. */
export async function settledOutcome<A>(answer: Promise<Settled<A>>): Promise<Settled<A>> {
  const outcome = await settled(answer);
  return outcome.ok ? outcome.value : outcome;
}
