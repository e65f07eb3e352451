// Two numbers side by side.

// @ts-ignore: decorator
@inline export function splat(x: f64): v128 {
  return f64x2.splat(x);
}

// @ts-ignore: decorator
@inline export function low(a: v128, b: v128): v128 {
  return v128.shuffle<f64>(a, b, 0, 2);
}

// @ts-ignore: decorator
@inline export function high(a: v128, b: v128): v128 {
  return v128.shuffle<f64>(a, b, 1, 3);
}

// @ts-ignore: decorator
@inline export function gather(at: usize, v: v128): void {
  v128.store(at, f64x2.add(v128.load(at), v));
}

// @ts-ignore: decorator
@inline export function addTo(at: usize, v: f64): void {
  store<f64>(at, load<f64>(at) + v);
}
