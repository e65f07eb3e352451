/**
 * How long the modes of example A's whole body take up to 1,100 Hz, beside SciPy's eigsh on the same matrices and for the
 * same number of modes, at four mesh sizes: the structural eigenproblem alone, in one thread.
 *
 * Runs of the two are interleaved, so that a busy machine hits both; medians are printed, in milliseconds of processor
 * time (one thread each) and of the clock. SciPy needs python3 with scipy; without it that half is left out and said so.
 */
import { rmSync } from "node:fs";
import { analysePattern, joinSlices, modesBetween, opened, quiet, type SliceOptions } from "#engine/numerics";
import type { BodySystem } from "#engine/shells";
import { wasmKernels } from "#kernels";
import { exampleBody } from "./bodyMatrices.ts";
import { type TheirRun, theirRun, writeMatrices } from "./scipy.ts";
import { exponent, median, type Span, spans, stopwatch } from "./span.ts";

const tolerance = 1e-9;
const meshes = [0.45, 0.6, 0.8, 1];
const top = (2 * Math.PI * 1100) ** 2;
const cut = (2 * Math.PI * 660) ** 2;

interface OurRun {
  readonly analysis: Span;
  /** One shift for all modes, with the count that proves them. */
  readonly whole: Span;
  /** Two slices that prove each other, the second with the count at the top. */
  readonly low: Span;
  readonly high: Span;
  readonly values: Float64Array;
}

export function timeEigen(say: (line: string) => void): void {
  const rows: { nodes: number; ours: number; best: number | null }[] = [];
  say(
    `modes of example A's body to 1,100 Hz, tolerance ${tolerance}; median ms of processor time [of the clock]`,
  );
  for (const mesh of meshes) {
    const { nodes, assemble } = exampleBody(mesh);
    const system = assemble();
    const file = writeMatrices(system.stiffness, system.mass);
    const repeats = mesh > 0.7 ? 3 : 5;
    const first = ourRun(system); // cold: the compiler has not seen this size yet
    const count = first.values.length;
    const ours: OurRun[] = [];
    const best: TheirRun[] = [];
    for (let r = 0; r < repeats; r++) {
      ours.push(ourRun(system));
      const theirs = theirRun(file, count, tolerance, "best", -1e-3 * top);
      if (theirs !== null) best.push(theirs);
    }
    const standard = theirRun(file, count, tolerance, "default", -1e-3 * top);
    rmSync(file);
    const total = (o: OurRun): number => o.analysis.cpu + o.whole.cpu;
    const row = {
      nodes,
      ours: median(ours.map(total)),
      best: best.length > 0 ? 1000 * median(best.map((b) => b.cpu)) : null,
    };
    rows.push(row);
    say(`\n${nodes} nodes, ${system.stiffness.n} unknowns, ${count} modes`);
    say(`  order and symbolic     ${spans(ours.map((o) => o.analysis))}`);
    say(
      `  all from one shift     ${spans(ours.map((o) => o.whole))}   first run, order included ${total(first).toFixed(0)}`,
    );
    say(`  two slices, each       ${spans(ours.map((o) => o.low))}   ${spans(ours.map((o) => o.high))}`);
    if (row.best === null || standard === null) {
      say("  SciPy: NOT MEASURED, python3 with scipy is not on this machine");
      continue;
    }
    const theirs = best.map((b) => ({ cpu: 1000 * b.cpu, wall: 1000 * b.wall }));
    say(`  SciPy at its best      ${spans(theirs)}   ratio to ours ${(row.best / row.ours).toFixed(2)}`);
    say(`  SciPy by default       ${(1000 * standard.cpu).toFixed(0).padStart(6)}   (one run)`);
    say(
      `  eigenvalues agree to ${worstGap(ours[0].values, best[0].values).toExponential(1)} (SciPy ${best[0].scipy})`,
    );
  }
  say("\ntime grows with nodes to the power (fit over the four sizes):");
  say(`  ours ${exponent(rows.map((r) => [r.nodes, r.ours])).toFixed(2)}`);
  const points = rows.flatMap((r): [number, number][] => (r.best === null ? [] : [[r.nodes, r.best]]));
  if (points.length > 1) say(`  SciPy best ${exponent(points).toFixed(2)}`);
}

function ourRun(system: BodySystem): OurRun {
  const { stiffness: k, mass: m } = system;
  const context = { ...quiet, kernels: wasmKernels };
  const clock = stopwatch();
  const analysis = analysePattern(k, system.group);
  const analysed = clock();
  const slice = (o: Omit<SliceOptions, "analysis" | "tolerance">) =>
    opened(modesBetween(k, m, { ...o, analysis, tolerance }, context));
  const { values } = slice({ from: 0, to: top });
  const whole = clock();
  const low = slice({ from: 0, to: cut, countTo: false, expected: 32 });
  const lowSpan = clock();
  const high = slice({ from: cut, to: top, countFrom: false });
  const highSpan = clock();
  const joined = opened(joinSlices([low, high]));
  if (joined.values.length !== values.length) throw new Error("one shift and two slices disagree");
  return { analysis: analysed, whole, low: lowSpan, high: highSpan, values };
}

/** Largest relative gap of the elastic values: rigid ones are nothing but rounding. */
function worstGap(a: Float64Array, b: readonly number[]): number {
  let worst = 0;
  for (let i = 6; i < a.length; i++) worst = Math.max(worst, Math.abs(a[i] - b[i]) / b[i]);
  return worst;
}
