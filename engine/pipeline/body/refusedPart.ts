import { failed, type Outcome } from "#engine/numerics";
import { type BodySystem, partOfNode } from "#engine/shells";

/**
 * What the solvers refuse about a body, told by its part: 'singular' and 'not-positive-definite' name an unknown, of which
 * a maker knows nothing. `loaded`: the matrix holds the strings' pull, which a body beyond its buckling load does not bear.
 */
export function refusedPart<T>(outcome: Outcome<T>, system: BodySystem, loaded: boolean): Outcome<T> {
  if (outcome.ok) return outcome;
  const { reason, detail } = outcome;
  if (loaded && reason === "unstable") return failed("buckled", `under the pull of its strings ${detail}`);
  const named = /degree of freedom (\d+) of (\d+)/.exec(detail);
  if (named === null || Number(named[2]) !== system.n) return outcome;
  const part = partOfNode(system, system.group[Number(named[1])]!);
  if (loaded && reason === "not-positive-definite")
    return failed(
      "buckled",
      `under the pull of its strings the body has no stable form: it gives way, and the equations first show it at ${part}`,
    );
  return failed(
    reason,
    `the equations of the body have no sound solution at ${part}: nothing holds it, or it is out of all proportion softer, stiffer or lighter than what it is joined to`,
  );
}
