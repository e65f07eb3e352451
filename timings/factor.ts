/**
 * How near the sparse factorisation comes to what this machine can do in WebAssembly: its rate beside that of a register-blocked
 * multiply-add loop in the same kernels, measured in turn with it, and its growth with the number of nodes.
 */
import { analysePattern, factorize, opened, placeOf, quiet, refactorize } from "#engine/numerics";
import { wasmKernels } from "#kernels";
import { exampleBody } from "./bodyMatrices.ts";
import { exponent, median, stopwatch } from "./span.ts";

const meshes = [0.45, 0.6, 0.8, 1];
const repeats = 7;

/** Multiplications and additions of the factorisation, stored zeros of merged columns counted, filled-up ones not. */
function factorOperations(analysis: ReturnType<typeof analysePattern>): number {
  let sum = 0;
  for (let s = 0; s < analysis.count; s++) {
    let w = 0;
    for (let p = analysis.columnStart[s]; p < analysis.columnStart[s + 1]; p++)
      if (analysis.dofAt[p] >= 0) w++;
    const r = analysis.rowCount[s];
    sum += (w * w * w) / 3 + w * w * r + w * r * r;
  }
  return sum;
}

/** Operations a second of the loop in the fastest cache, 4 x 4 in registers of two doubles. */
function machineRate(): () => number {
  const kernels = wasmKernels(1024);
  const [a, b, c] = [256, 256, 16].map((size) => placeOf(kernels.allocate(size)));
  return () => {
    const clock = stopwatch();
    kernels.rate.multiplyAdd(a, b, 64, c, 60_000);
    return (32 * 64 * 60_000) / (clock().cpu / 1000);
  };
}

export function timeFactor(say: (line: string) => void): void {
  const rate = machineRate();
  for (let warm = 0; warm < 3; warm++) rate();
  const context = { ...quiet, kernels: wasmKernels };
  const costs: [number, number][] = [];
  say("factorisation of example A's whole body, L D L' in WebAssembly, processor time");
  for (const mesh of meshes) {
    const { nodes, assemble } = exampleBody(mesh);
    const { stiffness, mass, group } = assemble();
    const held = { ...stiffness, values: stiffness.values.map((v, i) => v + 1e4 * mass.values[i]) };
    const analysis = analysePattern(stiffness, group);
    const operations = factorOperations(analysis);
    const factor = opened(factorize(held, { analysis }, context));
    const times: number[] = [];
    const peaks: number[] = [];
    const shares: number[] = [];
    for (let r = 0; r <= repeats; r++) {
      const before = rate();
      const clock = stopwatch();
      opened(refactorize(factor, held, context));
      const seconds = clock().cpu / 1000;
      const peak = 0.5 * (before + rate());
      if (r === 0) continue; // the compiler has not seen it yet
      times.push(seconds);
      peaks.push(peak);
      shares.push(operations / seconds / peak);
    }
    costs.push([nodes, median(times)]);
    say(
      `  ${nodes} nodes, ${stiffness.n} unknowns: ${(operations / 1e9).toFixed(2)} GFlop in ${(1000 * median(times)).toFixed(0)} ms, ` +
        `${(operations / median(times) / 1e9).toFixed(1)} GFlop/s; the loop ${(median(peaks) / 1e9).toFixed(1)}; share ${(100 * median(shares)).toFixed(0)} %`,
    );
  }
  say(`  time grows with nodes to the power ${exponent(costs).toFixed(2)}`);
}
