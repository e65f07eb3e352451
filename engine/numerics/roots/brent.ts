/** A root of a real function between two points of opposite sign. */
import { done, failed, type Outcome } from "../outcome.ts";

/**
 * Brent's method: inverse quadratic steps, held in a shrinking bracket by bisection. f(a) and f(b) must differ in sign.
 * tolerance: absolute error of the root. Fails with 'not-bracketed' or (f not a number) 'not-converged'.
 * Source: R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 4.
 */
export function brent(f: (x: number) => number, a: number, b: number, tolerance: number): Outcome<number> {
  let xa = a;
  let xb = b;
  let fa = f(xa);
  let fb = f(xb);
  if (fa === 0) return done(xa);
  if (fb === 0) return done(xb);
  if (!(fa * fb < 0))
    return failed("not-bracketed", `f(${a}) = ${fa} and f(${b}) = ${fb} do not differ in sign`);
  let xc = xa;
  let fc = fa;
  let step = xb - xa;
  let before = step;
  // Bisection alone needs at most ~1100 halvings over the whole range of doubles; each of its steps may be tried twice.
  for (let iteration = 0; iteration < 3000; iteration++) {
    if (fb > 0 === fc > 0) {
      xc = xa;
      fc = fa;
      step = xb - xa;
      before = step;
    }
    if (Math.abs(fc) < Math.abs(fb)) {
      xa = xb;
      xb = xc;
      xc = xa;
      fa = fb;
      fb = fc;
      fc = fa;
    }
    const limit = 2 * Number.EPSILON * Math.abs(xb) + 0.5 * tolerance;
    const half = 0.5 * (xc - xb);
    if (Math.abs(half) <= limit || fb === 0) return done(xb);
    if (Math.abs(before) >= limit && Math.abs(fa) > Math.abs(fb)) {
      const s = fb / fa;
      let p: number;
      let q: number;
      if (xa === xc) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const r = fb / fc;
        const t = fa / fc;
        p = s * (2 * half * t * (t - r) - (xb - xa) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      else p = -p;
      if (2 * p < Math.min(3 * half * q - Math.abs(limit * q), Math.abs(before * q))) {
        before = step;
        step = p / q;
      } else {
        step = half;
        before = half;
      }
    } else {
      step = half;
      before = half;
    }
    xa = xb;
    fa = fb;
    xb += Math.abs(step) > limit ? step : half > 0 ? limit : -limit;
    fb = f(xb);
    if (Number.isNaN(fb)) return failed("not-converged", `f(${xb}) is not a number`);
  }
  return failed("not-converged", `no root to ${tolerance} between ${a} and ${b}`);
}
