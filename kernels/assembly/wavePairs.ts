// Wave kernel between all pairs of flat triangles: engine/numerics/kernels/wavePairs.ts says what is added to what.
//
// Two source triangles q, q + 1 run in the two lanes of every register. For each pair of points i of p and j of q:
//   g = w (cos kr - i sin kr)/r,   h = g (1 + ikr)/r2,   to = h d.n_q,   from = -h d.n_p,   d = x_i - y_j
// then 3 x 3 moments with hats: v -> v/2 + sum/6 along rows and columns.

@inline function splat(x: f64): v128 {
  return f64x2.splat(x);
}

// Rows then columns of nine registers at `at`.
@inline function line(at: usize, step: usize): void {
  const a = v128.load(at);
  const b = v128.load(at + step);
  const c = v128.load(at + 2 * step);
  const sixth = f64x2.mul(f64x2.add(f64x2.add(a, b), c), splat(1.0 / 6.0));
  const half = splat(0.5);
  v128.store(at, f64x2.add(f64x2.mul(a, half), sixth));
  v128.store(at + step, f64x2.add(f64x2.mul(b, half), sixth));
  v128.store(at + 2 * step, f64x2.add(f64x2.mul(c, half), sixth));
}

@inline function moments(at: usize): void {
  line(at, 16);
  line(at + 48, 16);
  line(at + 96, 16);
  line(at, 48);
  line(at + 16, 48);
  line(at + 32, 48);
}

@inline function take(at: usize, v: f64): void {
  store<f64>(at, load<f64>(at) + v);
}

export function addWavePairs(
  k: f64, eta: f64, count: i32, stride: usize,
  points: usize, normals: usize, curls: usize, areas: usize, corners: usize,
  nodes: usize, aRe: usize, aIm: usize, bRe: usize, bIm: usize,
  scratch: usize,
): void {
  const work = scratch << 3;
  const line8 = stride << 3;
  const g = work;
  const gi = work + 144;
  const to = work + 288;
  const toIm = work + 432;
  const from = work + 576;
  const fromIm = work + 720;
  const P = points << 3;
  const N = normals << 3;
  const C = curls << 3;
  const A = areas << 3;
  const I = corners << 2;
  const ar = aRe << 3;
  const ai = aIm << 3;
  const br = bRe << 3;
  const bi = bIm << 3;
  const kk = splat(k);
  for (let p: i32 = 0; p < count; p++) {
    const op = <usize>p << 3;
    const nx = v128.load_splat<f64>(N + op);
    const ny = v128.load_splat<f64>(N + line8 + op);
    const nz = v128.load_splat<f64>(N + 2 * line8 + op);
    const own = f64x2.mul(v128.load_splat<f64>(A + op), splat(1.0 / (36.0 * Math.PI)));
    for (let q: i32 = p + 1; q < count; q += 2) {
      const oq = <usize>q << 3;
      const weight = f64x2.mul(own, v128.load(A + oq));
      const mx = v128.load(N + oq);
      const my = v128.load(N + line8 + oq);
      const mz = v128.load(N + 2 * line8 + oq);
      for (let i: usize = 0; i < 3; i++) {
        const ap = P + 3 * i * line8 + op;
        const x = v128.load_splat<f64>(ap);
        const y = v128.load_splat<f64>(ap + line8);
        const z = v128.load_splat<f64>(ap + 2 * line8);
        for (let j: usize = 0; j < 3; j++) {
          const aq = P + 3 * j * line8 + oq;
          const dx = f64x2.sub(x, v128.load(aq));
          const dy = f64x2.sub(y, v128.load(aq + line8));
          const dz = f64x2.sub(z, v128.load(aq + 2 * line8));
          const r2 = f64x2.add(f64x2.add(f64x2.mul(dx, dx), f64x2.mul(dy, dy)), f64x2.mul(dz, dz));
          const r = f64x2.sqrt(r2);
          const kr = f64x2.mul(kk, r);
          // Sine and cosine: kr = turns pi/2 + u, |u| <= pi/4, then the polynomials of fdlibm (k_sin.c, k_cos.c).
          const turns = f64x2.nearest(f64x2.mul(kr, splat(0.6366197723675814)));
          let u = f64x2.sub(kr, f64x2.mul(turns, splat(1.57079632673412561417e0)));
          u = f64x2.sub(u, f64x2.mul(turns, splat(6.07710050630396597660e-11)));
          u = f64x2.sub(u, f64x2.mul(turns, splat(2.02226624879595063154e-21)));
          const w = f64x2.mul(u, u);
          let sp = f64x2.add(f64x2.mul(w, splat(1.58969099521155010221e-10)), splat(-2.50507602534068634195e-8));
          sp = f64x2.add(f64x2.mul(w, sp), splat(2.75573137070700676789e-6));
          sp = f64x2.add(f64x2.mul(w, sp), splat(-1.98412698298579493134e-4));
          sp = f64x2.add(f64x2.mul(w, sp), splat(8.33333333332248946124e-3));
          sp = f64x2.add(f64x2.mul(w, sp), splat(-1.66666666666666324348e-1));
          sp = f64x2.add(u, f64x2.mul(f64x2.mul(u, w), sp));
          let cp = f64x2.add(f64x2.mul(w, splat(-1.13596475577881948265e-11)), splat(2.08757232129817482790e-9));
          cp = f64x2.add(f64x2.mul(w, cp), splat(-2.75573143513906633035e-7));
          cp = f64x2.add(f64x2.mul(w, cp), splat(2.48015872894767294178e-5));
          cp = f64x2.add(f64x2.mul(w, cp), splat(-1.38888888888741095749e-3));
          cp = f64x2.add(f64x2.mul(w, cp), splat(4.16666666666666019037e-2));
          cp = f64x2.add(f64x2.mul(f64x2.mul(w, w), cp), f64x2.sub(splat(1), f64x2.mul(splat(0.5), w)));
          // Quarter turns: odd n exchange sine and cosine; signs from bit 1 of n and of n + 1.
          const quarter = i32x4.trunc_sat_f64x2_s_zero(turns);
          const wide = i64x2.extend_low_i32x4_s(quarter);
          const odd = i64x2.ne(v128.and(wide, i64x2.splat(1)), i64x2.splat(0));
          const signS = i64x2.shl(v128.and(wide, i64x2.splat(2)), 62);
          const signC = i64x2.shl(v128.and(i64x2.add(wide, i64x2.splat(1)), i64x2.splat(2)), 62);
          const sine = v128.xor(v128.bitselect(cp, sp, odd), signS);
          const cosine = v128.xor(v128.bitselect(sp, cp, odd), signC);
          const scale = f64x2.div(weight, r);
          const c = f64x2.mul(cosine, scale);
          const s = f64x2.mul(sine, scale);
          const e = (3 * i + j) << 4;
          v128.store(g + e, c);
          v128.store(gi + e, f64x2.neg(s));
          const hr = f64x2.div(f64x2.add(c, f64x2.mul(kr, s)), r2);
          const hi = f64x2.div(f64x2.sub(f64x2.mul(kr, c), s), r2);
          const dq = f64x2.add(f64x2.add(f64x2.mul(dx, mx), f64x2.mul(dy, my)), f64x2.mul(dz, mz));
          const dp = f64x2.neg(f64x2.add(f64x2.add(f64x2.mul(dx, nx), f64x2.mul(dy, ny)), f64x2.mul(dz, nz)));
          v128.store(to + e, f64x2.mul(hr, dq));
          v128.store(toIm + e, f64x2.mul(hi, dq));
          v128.store(from + e, f64x2.mul(hr, dp));
          v128.store(fromIm + e, f64x2.mul(hi, dp));
        }
      }
      moments(g);
      moments(gi);
      moments(to);
      moments(toIm);
      moments(from);
      moments(fromIm);
      const lanes: usize = q + 1 < count ? 2 : 1;
      for (let lane: usize = 0; lane < lanes; lane++) {
        const l8 = lane << 3;
        const at = (<usize>q + lane);
        let total: f64 = 0;
        let totalIm: f64 = 0;
        let facing: f64 = 0;
        if (eta != 0) {
          for (let e: usize = 0; e < 144; e += 16) {
            total += load<f64>(g + e + l8);
            totalIm += load<f64>(gi + e + l8);
          }
          const n = N + (at << 3);
          facing = k * k * (
            load<f64>(N + op) * load<f64>(n) +
            load<f64>(N + line8 + op) * load<f64>(n + line8) +
            load<f64>(N + 2 * line8 + op) * load<f64>(n + 2 * line8));
        }
        for (let m: usize = 0; m < 3; m++) {
          const row = <usize>load<u32>(I + ((m * stride + <usize>p) << 2));
          const rowOfQ = <usize>load<u32>(I + ((m * stride + at) << 2));
          const b = (row * <usize>count + at) << 3;
          const d = (rowOfQ * <usize>count + <usize>p) << 3;
          let b0: f64 = 0;
          let b1: f64 = 0;
          let d0: f64 = 0;
          let d1: f64 = 0;
          for (let n: usize = 0; n < 3; n++) {
            const column = <usize>load<u32>(I + ((n * stride + at) << 2));
            const e = ((3 * m + n) << 4) + l8;
            const f = ((3 * n + m) << 4) + l8;
            const there = (row * nodes + column) << 3;
            const back = (column * nodes + row) << 3;
            let re: f64 = 0;
            let im: f64 = 0;
            if (eta != 0) {
              let curl: f64 = 0;
              for (let x: usize = 0; x < 3; x++) {
                curl += load<f64>(C + (3 * m + x) * line8 + op) * load<f64>(C + (3 * n + x) * line8 + (at << 3));
              }
              re = -eta * (facing * load<f64>(gi + e) - curl * totalIm);
              im = eta * (facing * load<f64>(g + e) - curl * total);
            }
            take(ar + there, re - load<f64>(to + e));
            take(ai + there, im - load<f64>(toIm + e));
            take(ar + back, re - load<f64>(from + e));
            take(ai + back, im - load<f64>(fromIm + e));
            b0 += load<f64>(g + e) + eta * load<f64>(fromIm + e);
            b1 += load<f64>(gi + e) - eta * load<f64>(from + e);
            d0 += load<f64>(g + f) + eta * load<f64>(toIm + f);
            d1 += load<f64>(gi + f) - eta * load<f64>(to + f);
          }
          take(br + b, b0);
          take(bi + b, b1);
          take(br + d, d0);
          take(bi + d, d1);
        }
      }
    }
  }
}
