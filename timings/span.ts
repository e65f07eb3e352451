/** Measuring and summing up: processor time and the clock, medians, growth. */

export interface Span {
  readonly cpu: number;
  readonly wall: number;
}

/** A clock that tells the time since it was last read, in milliseconds. */
export function stopwatch(): () => Span {
  const now = (): Span => {
    const { user, system } = process.cpuUsage();
    return { cpu: (user + system) / 1000, wall: performance.now() };
  };
  let last = now();
  return () => {
    const before = last;
    last = now();
    return { cpu: last.cpu - before.cpu, wall: last.wall - before.wall };
  };
}

export function median(list: readonly number[]): number {
  const sorted = [...list].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}

/** Medians of processor time and, in brackets, of the clock. */
export function spans(list: readonly Span[]): string {
  const cpu = median(list.map((s) => s.cpu)).toFixed(0);
  return `${cpu.padStart(6)} [${median(list.map((s) => s.wall)).toFixed(0)}]`;
}

/** Slope of log y over log x by least squares. */
export function exponent(points: readonly (readonly [number, number])[]): number {
  const x = points.map(([n]) => Math.log(n));
  const y = points.map(([, t]) => Math.log(t));
  const mean = (v: readonly number[]): number => v.reduce((s, e) => s + e, 0) / v.length;
  const [mx, my] = [mean(x), mean(y)];
  const top = x.reduce((s, v, i) => s + (v - mx) * (y[i] - my), 0);
  return top / x.reduce((s, v) => s + (v - mx) ** 2, 0);
}
