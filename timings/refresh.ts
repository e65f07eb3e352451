/** What an exact refresh costs after an edit is let go: a brace's worth of stiffness added along a line of the body's nodes. */
import { lowestModes, opened, quiet, refreshModes, refreshState } from "#engine/numerics";
import { wasmKernels } from "#kernels";
import { exampleBody } from "./bodyMatrices.ts";
import { type Span, spans, stopwatch } from "./span.ts";

const shift = 4e4;
const line = 60; // nodes

export function timeRefresh(say: (line: string) => void): void {
  const { nodes, assemble } = exampleBody(1);
  const { stiffness: k, mass: m, group } = assemble();
  const context = { ...quiet, kernels: wasmKernels };
  const before = opened(lowestModes(k, m, { count: 80, shift, group }, context));
  const touched = lineOfGroups(k, group);
  const values = k.values.slice();
  for (let j = 0; j < k.n; j++) if (touched.has(group[j])) values[k.colStart[j]] *= 1 + 1e-5;
  const after = { ...k, values };
  const exact = opened(lowestModes(after, m, { count: 60, shift, group }, context));
  say(
    `\nexact refresh at ${nodes} nodes after a change of ${touched.size} of them, median ms of processor time [of the clock]`,
  );
  for (const [given, wanted] of [
    [40, 30],
    [80, 60],
  ]) {
    const state = opened(refreshState(k, m, { shift, most: given!, group }, context));
    const vectors = before.vectors.subarray(0, given! * k.n);
    const times: Span[] = [];
    let note = "";
    for (let r = 0; r < 5; r++) {
      opened(refreshModes(state, k, m, vectors.subarray(0, 4 * k.n), 4, context)); // back to where it was
      const clock = stopwatch();
      const found = opened(refreshModes(state, after, m, vectors, wanted!, context));
      times.push(clock());
      const error = (values: Float64Array): string =>
        Math.max(
          ...found.values.map((_, i) =>
            Math.abs(Math.sqrt((values[i] + shift) / (exact.values[i] + shift)) - 1),
          ),
        ).toExponential(0);
      note = `${found.refactored} of ${found.supernodes} fronts; modes had moved by ${error(before.values)}, now off by ${error(found.values)}`;
    }
    say(`  ${wanted} modes from ${given}  ${spans(times)}   ${note}`);
  }
}

/** A walk through neighbouring groups from the middle of the matrix. */
function lineOfGroups(
  k: { readonly n: number; readonly colStart: Uint32Array; readonly rowIndex: Uint32Array },
  group: Uint32Array,
): ReadonlySet<number> {
  const next = new Map<number, Set<number>>();
  const join = (a: number, b: number): void => {
    const known = next.get(a);
    if (known === undefined) next.set(a, new Set([b]));
    else known.add(b);
  };
  for (let j = 0; j < k.n; j++)
    for (let p = k.colStart[j]; p < k.colStart[j + 1]; p++) {
      const [a, b] = [group[j], group[k.rowIndex[p]]];
      if (a === b) continue;
      join(a, b);
      join(b, a);
    }
  const walked = new Set<number>();
  for (let at: number | undefined = group[k.n >> 1]; at !== undefined && walked.size < line; ) {
    walked.add(at);
    at = [...(next.get(at) ?? [])].find((g) => !walked.has(g));
  }
  return walked;
}
