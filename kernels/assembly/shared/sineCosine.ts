// Sine and cosine of two numbers side by side: x = turns pi/2 + q, |q| <= pi/4, then the polynomials of fdlibm (k_sin.c, k_cos.c).
import { splat } from "./lanes";

// @ts-ignore: decorator
@inline export function quarterTurns(x: v128): v128 {
  return f64x2.nearest(f64x2.mul(x, splat(0.6366197723675814)));
}

// @ts-ignore: decorator
@inline export function leftOver(x: v128, turns: v128): v128 {
  let q = f64x2.sub(x, f64x2.mul(turns, splat(1.57079632673412561417e0)));
  q = f64x2.sub(q, f64x2.mul(turns, splat(6.07710050630396597660e-11)));
  return f64x2.sub(q, f64x2.mul(turns, splat(2.02226624879595063154e-21)));
}

/** Of q within a quarter turn; qq = q q. */
// @ts-ignore: decorator
@inline export function sineNear(q: v128, qq: v128): v128 {
  let sp = f64x2.add(f64x2.mul(qq, splat(1.58969099521155010221e-10)), splat(-2.50507602534068634195e-8));
  sp = f64x2.add(f64x2.mul(qq, sp), splat(2.75573137070700676789e-6));
  sp = f64x2.add(f64x2.mul(qq, sp), splat(-1.98412698298579493134e-4));
  sp = f64x2.add(f64x2.mul(qq, sp), splat(8.33333333332248946124e-3));
  sp = f64x2.add(f64x2.mul(qq, sp), splat(-1.66666666666666324348e-1));
  return f64x2.add(q, f64x2.mul(f64x2.mul(q, qq), sp));
}

// @ts-ignore: decorator
@inline export function cosineNear(qq: v128): v128 {
  let cp = f64x2.add(f64x2.mul(qq, splat(-1.13596475577881948265e-11)), splat(2.08757232129817482790e-9));
  cp = f64x2.add(f64x2.mul(qq, cp), splat(-2.75573143513906633035e-7));
  cp = f64x2.add(f64x2.mul(qq, cp), splat(2.48015872894767294178e-5));
  cp = f64x2.add(f64x2.mul(qq, cp), splat(-1.38888888888741095749e-3));
  cp = f64x2.add(f64x2.mul(qq, cp), splat(4.16666666666666019037e-2));
  return f64x2.add(f64x2.mul(f64x2.mul(qq, qq), cp), f64x2.sub(splat(1), f64x2.mul(splat(0.5), qq)));
}

// Quarter turns: odd ones exchange sine and cosine; signs from bit 1 of their number and of the next.
// @ts-ignore: decorator
@inline export function turnedSine(sp: v128, cp: v128, wide: v128): v128 {
  const odd = i64x2.ne(v128.and(wide, i64x2.splat(1)), i64x2.splat(0));
  return v128.xor(v128.bitselect(cp, sp, odd), i64x2.shl(v128.and(wide, i64x2.splat(2)), 62));
}

// @ts-ignore: decorator
@inline export function turnedCosine(sp: v128, cp: v128, wide: v128): v128 {
  const odd = i64x2.ne(v128.and(wide, i64x2.splat(1)), i64x2.splat(0));
  return v128.xor(v128.bitselect(sp, cp, odd), i64x2.shl(v128.and(i64x2.add(wide, i64x2.splat(1)), i64x2.splat(2)), 62));
}
