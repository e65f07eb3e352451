import { choleskyDense, choleskySolve, done, type Outcome } from "#engine/numerics";
import { changedMatrix } from "#engine/shells";
import type { LiveModel } from "../live/liveModel.ts";
import { termSlope } from "./termSlope.ts";

/**
 * Change of the bridge's turn under the strings (rad) per unit of relative change of each value: -y' K_p x with K x = f the
 * answer to the load and K y = c, c reading the turn off an answer. On the modes and the load's own answer.
 */
export function rotationSlopes(
  { reduced, figures }: LiveModel,
  paths: readonly string[],
): Outcome<Float64Array> {
  const { rigidCount: r, loadCount, loads } = reduced;
  const count = reduced.values.length + loadCount;
  const columns = Uint32Array.from({ length: count }, (_, i) => r + i);
  const factor = choleskyDense(changedMatrix(columns, reduced.stiffness, [], "stiffness"), count);
  if (!factor.ok) return factor;
  const x = choleskySolve(
    factor.value,
    count,
    Float64Array.from(columns, (c) => loads[c]!),
  );
  const reading = Float64Array.from(columns, (c) => figures[c]!);
  const y = choleskySolve(factor.value, count, reading);
  const slopes = Float64Array.from(paths, (path) => {
    const k = termSlope(reduced, columns, path, "stiffness");
    if (k === null) return 0;
    let sum = 0;
    for (let i = 0; i < count; i++) for (let j = 0; j < count; j++) sum -= y[i]! * k[i * count + j]! * x[j]!;
    return sum;
  });
  return done(slopes);
}
