/**
 * How long the lowest 60 modes of example A's top take, beside SciPy's eigsh on the same matrices, at four mesh sizes.
 *
 * Runs of the two are interleaved, so that a busy machine hits both; medians are printed, in milliseconds of processor
 * time (one thread each) and of the clock. SciPy needs python3 with scipy; without it that half is left out and said so.
 */
import { spawnSync } from "node:child_process";
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import {
  analysePattern,
  factorize,
  lowestModes,
  opened,
  quiet,
  type SparseSymmetric,
} from "#engine/numerics";
import type { PanelSystem } from "#engine/shells";
import { exampleTop, topSystem } from "./topMatrices.ts";

const modeCount = 60;
const tolerance = 1e-9;
const nodeCounts = [1250, 2500, 5000, 10000];

interface Span {
  readonly cpu: number;
  readonly wall: number;
}
interface OurRun {
  readonly assembly: Span;
  readonly analysis: Span;
  readonly factor: Span;
  readonly modes: Span; // factor included
  readonly values: Float64Array;
}
interface TheirRun {
  readonly wall: number;
  readonly cpu: number;
  readonly factor: number | null;
  readonly values: readonly number[];
  readonly scipy: string;
}

export function timeEigen(say: (line: string) => void): void {
  const folder = new URL("../.out/", import.meta.url);
  mkdirSync(folder, { recursive: true });
  const file = fileURLToPath(new URL("top-matrices.bin", folder));
  const panel = exampleTop();
  const rows: { nodes: number; ours: number; best: number | null; standard: number | null }[] = [];
  say(
    `lowest ${modeCount} modes of example A's top, tolerance ${tolerance}; median ms of processor time [of the clock]`,
  );
  for (const wanted of nodeCounts) {
    const { nodes, assemble } = topSystem(panel, wanted);
    const system = assemble();
    writeMatrices(file, system);
    const repeats = wanted > 3000 ? 3 : 5;
    const ours: OurRun[] = [];
    const best: TheirRun[] = [];
    const standard: TheirRun[] = [];
    const first = ourRun(assemble); // cold: the compiler has not seen this size yet
    for (let r = 0; r < repeats; r++) {
      ours.push(ourRun(assemble));
      const a = theirRun(file, "best");
      const b = theirRun(file, "default");
      if (a !== null) best.push(a);
      if (b !== null) standard.push(b);
    }
    rmSync(file);
    const total = (o: OurRun): number => o.analysis.cpu + o.modes.cpu;
    const row = {
      nodes,
      ours: median(ours.map(total)),
      best: best.length > 0 ? 1000 * median(best.map((b) => b.cpu)) : null,
      standard: standard.length > 0 ? 1000 * median(standard.map((b) => b.cpu)) : null,
    };
    rows.push(row);
    say(`\n${nodes} nodes, ${system.stiffness.n} unknowns`);
    say(`  assembly             ${spans(ours.map((o) => o.assembly))}`);
    say(`  order and symbolic   ${spans(ours.map((o) => o.analysis))}`);
    say(`  factor               ${spans(ours.map((o) => o.factor))}`);
    say(`  Lanczos              ${spans(ours.map((o) => less(o.modes, o.factor)))}`);
    say(
      `  ours, all but assembly ${spans(ours.map((o) => sum(o.analysis, o.modes)))}   first run ${total(first).toFixed(0)}`,
    );
    if (row.best === null || row.standard === null) {
      say("  SciPy: NOT MEASURED, python3 with scipy is not on this machine");
      continue;
    }
    const ms = (runs: readonly TheirRun[]): string =>
      spans(runs.map((r) => ({ cpu: 1000 * r.cpu, wall: 1000 * r.wall })));
    say(`  SciPy at its best    ${ms(best)}   ratio ${(row.best / row.ours).toFixed(2)}`);
    say(`  SciPy by default     ${ms(standard)}   ratio ${(row.standard / row.ours).toFixed(2)}`);
    say(
      `  eigenvalues agree to ${worstGap(ours[0].values, best[0].values).toExponential(1)} (SciPy ${best[0].scipy})`,
    );
  }
  say("\ntime grows with nodes to the power (fit over the four sizes):");
  say(`  ours ${exponent(rows.map((r) => [r.nodes, r.ours])).toFixed(2)}`);
  for (const way of ["best", "standard"] as const) {
    const points = rows.flatMap((r): [number, number][] => (r[way] === null ? [] : [[r.nodes, r[way]]]));
    if (points.length > 1)
      say(`  SciPy ${way === "best" ? "best" : "default"} ${exponent(points).toFixed(2)}`);
  }
}

function ourRun(assemble: () => PanelSystem): OurRun {
  const clock = stopwatch();
  const system = assemble();
  const assembly = clock();
  const analysis = analysePattern(system.stiffness, system.group);
  const analysed = clock();
  opened(factorize(system.stiffness, { analysis }));
  const factor = clock();
  const pairs = opened(
    lowestModes(system.stiffness, system.mass, { count: modeCount, tolerance, analysis }, quiet),
  );
  return { assembly, analysis: analysed, factor, modes: clock(), values: pairs.values };
}

function theirRun(file: string, way: "best" | "default"): TheirRun | null {
  const script = fileURLToPath(new URL("eigsh.py", import.meta.url));
  const one = Object.fromEntries(["OMP", "OPENBLAS", "MKL"].map((lib) => [`${lib}_NUM_THREADS`, "1"]));
  const run = spawnSync("python3", [script, file, `${modeCount}`, `${tolerance}`, way], {
    encoding: "utf8",
    env: { ...process.env, ...one },
  });
  if (run.error !== undefined || /No module named/.test(run.stderr)) return null;
  if (run.status !== 0) throw new Error(`eigsh.py failed: ${run.stderr}`);
  return JSON.parse(run.stdout);
}

function writeMatrices(file: string, system: PanelSystem): void {
  const parts: Uint8Array[] = [];
  const put = (a: Uint32Array | Float64Array): void => {
    parts.push(new Uint8Array(a.buffer, a.byteOffset, a.byteLength));
  };
  const matrix = (a: SparseSymmetric): void => {
    put(Uint32Array.of(a.n, a.values.length));
    put(a.colStart);
    put(a.rowIndex);
    put(a.values);
  };
  matrix(system.stiffness);
  matrix(system.mass);
  writeFileSync(file, Buffer.concat(parts));
}

/** A clock that tells the time since it was last read. */
function stopwatch(): () => Span {
  const now = (): Span => {
    const { user, system } = process.cpuUsage();
    return { cpu: (user + system) / 1000, wall: performance.now() };
  };
  let last = now();
  return () => {
    const before = last;
    last = now();
    return less(last, before);
  };
}

const less = (a: Span, b: Span): Span => ({ cpu: a.cpu - b.cpu, wall: a.wall - b.wall });
const sum = (a: Span, b: Span): Span => ({ cpu: a.cpu + b.cpu, wall: a.wall + b.wall });

function spans(list: readonly Span[]): string {
  const cpu = median(list.map((s) => s.cpu)).toFixed(0);
  return `${cpu.padStart(6)} [${median(list.map((s) => s.wall)).toFixed(0)}]`;
}

function median(list: readonly number[]): number {
  const sorted = [...list].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}

function worstGap(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let worst = 0;
  for (let i = 0; i < a.length; i++) worst = Math.max(worst, Math.abs(a[i] - b[i]) / Math.abs(b[i]));
  return worst;
}

/** Slope of log y over log x by least squares. */
function exponent(points: readonly (readonly [number, number])[]): number {
  const x = points.map(([n]) => Math.log(n));
  const y = points.map(([, t]) => Math.log(t));
  const mean = (v: readonly number[]): number => v.reduce((s, e) => s + e, 0) / v.length;
  const [mx, my] = [mean(x), mean(y)];
  const top = x.reduce((s, v, i) => s + (v - mx) * (y[i] - my), 0);
  return top / x.reduce((s, v) => s + (v - mx) ** 2, 0);
}
