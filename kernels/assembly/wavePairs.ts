// Wave kernel between all pairs of flat triangles: engine/numerics/kernels/wavePairs.ts says what is added to what.
//
// Two source triangles q, q + 1 run in the two lanes of every register. For each pair of points i of p and j of q:
//   g = w (cos kr - i sin kr)/r,   h = g (1 + ikr)/r2,   to = h d.n_q,   from = -h d.n_p,   d = x_i - y_j
// then 3 x 3 moments with hats: v -> v/2 + sum/6 along rows and columns.

@inline function splat(x: f64): v128 {
  return f64x2.splat(x);
}

// Nine registers at `at` to their moments with hats: v_ij / 4 + (row sum + column sum)/12 + sum/36.
@inline function moments(at: usize): void {
  const v00 = v128.load(at);
  const v01 = v128.load(at, 16);
  const v02 = v128.load(at, 32);
  const v10 = v128.load(at, 48);
  const v11 = v128.load(at, 64);
  const v12 = v128.load(at, 80);
  const v20 = v128.load(at, 96);
  const v21 = v128.load(at, 112);
  const v22 = v128.load(at, 128);
  const quarter = splat(0.25);
  const twelfth = splat(1.0 / 12.0);
  const r0 = f64x2.mul(twelfth, f64x2.add(f64x2.add(v00, v01), v02));
  const r1 = f64x2.mul(twelfth, f64x2.add(f64x2.add(v10, v11), v12));
  const r2 = f64x2.mul(twelfth, f64x2.add(f64x2.add(v20, v21), v22));
  const all = f64x2.mul(splat(1.0 / 3.0), f64x2.add(f64x2.add(r0, r1), r2));
  const c0 = f64x2.add(all, f64x2.mul(twelfth, f64x2.add(f64x2.add(v00, v10), v20)));
  const c1 = f64x2.add(all, f64x2.mul(twelfth, f64x2.add(f64x2.add(v01, v11), v21)));
  const c2 = f64x2.add(all, f64x2.mul(twelfth, f64x2.add(f64x2.add(v02, v12), v22)));
  v128.store(at, f64x2.add(f64x2.mul(quarter, v00), f64x2.add(r0, c0)));
  v128.store(at, f64x2.add(f64x2.mul(quarter, v01), f64x2.add(r0, c1)), 16);
  v128.store(at, f64x2.add(f64x2.mul(quarter, v02), f64x2.add(r0, c2)), 32);
  v128.store(at, f64x2.add(f64x2.mul(quarter, v10), f64x2.add(r1, c0)), 48);
  v128.store(at, f64x2.add(f64x2.mul(quarter, v11), f64x2.add(r1, c1)), 64);
  v128.store(at, f64x2.add(f64x2.mul(quarter, v12), f64x2.add(r1, c2)), 80);
  v128.store(at, f64x2.add(f64x2.mul(quarter, v20), f64x2.add(r2, c0)), 96);
  v128.store(at, f64x2.add(f64x2.mul(quarter, v21), f64x2.add(r2, c1)), 112);
  v128.store(at, f64x2.add(f64x2.mul(quarter, v22), f64x2.add(r2, c2)), 128);
}

@inline function take(at: usize, v: f64): void {
  store<f64>(at, load<f64>(at) + v);
}

@inline function low(a: v128, b: v128): v128 {
  return v128.shuffle<f64>(a, b, 0, 2);
}

@inline function high(a: v128, b: v128): v128 {
  return v128.shuffle<f64>(a, b, 1, 3);
}

// What one panel p exchanges with all others is gathered node by node, 16 doubles each (re, im): for its corners m = 0, 1, 2
// the entry (m, node) and the entry (node, m), 4 doubles a corner; then what its source does at the node, 2 doubles.
@inline function gather(at: usize, v: v128): void {
  v128.store(at, f64x2.add(v128.load(at), v));
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
  const nodal = work + 864;
  memory.fill(nodal, 0, nodes << 7);
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
      const both = q + 1 < count;
      let total = splat(0);
      let totalIm = splat(0);
      let facing = splat(0);
      if (eta != 0) {
        for (let e: usize = 0; e < 144; e += 16) {
          total = f64x2.add(total, v128.load(g + e));
          totalIm = f64x2.add(totalIm, v128.load(gi + e));
        }
        facing = f64x2.mul(
          splat(k * k),
          f64x2.add(f64x2.add(f64x2.mul(nx, mx), f64x2.mul(ny, my)), f64x2.mul(nz, mz)),
        );
      }
      // Sources on q and q + 1, at the corners of p.
      for (let m: usize = 0; m < 3; m++) {
        const e = 48 * m;
        let re = f64x2.add(f64x2.add(v128.load(g + e), v128.load(g + e, 16)), v128.load(g + e, 32));
        let im = f64x2.add(f64x2.add(v128.load(gi + e), v128.load(gi + e, 16)), v128.load(gi + e, 32));
        if (eta != 0) {
          const fr = f64x2.add(f64x2.add(v128.load(from + e), v128.load(from + e, 16)), v128.load(from + e, 32));
          const fi = f64x2.add(f64x2.add(v128.load(fromIm + e), v128.load(fromIm + e, 16)), v128.load(fromIm + e, 32));
          re = f64x2.add(re, f64x2.mul(splat(eta), fi));
          im = f64x2.sub(im, f64x2.mul(splat(eta), fr));
        }
        const o = (<usize>load<u32>(I + ((m * stride + <usize>p) << 2)) * <usize>count + <usize>q) << 3;
        if (both) {
          gather(br + o, re);
          gather(bi + o, im);
        } else {
          take(br + o, f64x2.extract_lane(re, 0));
          take(bi + o, f64x2.extract_lane(im, 0));
        }
      }
      for (let n: usize = 0; n < 3; n++) {
        const corner = I + ((n * stride + <usize>q) << 2);
        const one = nodal + (<usize>load<u32>(corner) << 7);
        const two = nodal + (<usize>load<u32>(corner, 4) << 7);
        let re = splat(0);
        let im = splat(0);
        for (let m: usize = 0; m < 3; m++) {
          const e = 48 * m + 16 * n;
          const gr = v128.load(g + e);
          const gm = v128.load(gi + e);
          const tr = v128.load(to + e);
          const ti = v128.load(toIm + e);
          const fr = v128.load(from + e);
          const fi = v128.load(fromIm + e);
          re = f64x2.add(re, gr);
          im = f64x2.add(im, gm);
          let there = f64x2.neg(tr);
          let thereIm = f64x2.neg(ti);
          let back = f64x2.neg(fr);
          let backIm = f64x2.neg(fi);
          if (eta != 0) {
            re = f64x2.add(re, f64x2.mul(splat(eta), ti));
            im = f64x2.sub(im, f64x2.mul(splat(eta), tr));
            const cp = C + 3 * m * line8 + op;
            const cq = C + 3 * n * line8 + oq;
            const curl = f64x2.add(
              f64x2.add(
                f64x2.mul(v128.load_splat<f64>(cp), v128.load(cq)),
                f64x2.mul(v128.load_splat<f64>(cp + line8), v128.load(cq + line8)),
              ),
              f64x2.mul(v128.load_splat<f64>(cp + 2 * line8), v128.load(cq + 2 * line8)),
            );
            const nr = f64x2.mul(splat(-eta), f64x2.sub(f64x2.mul(facing, gm), f64x2.mul(curl, totalIm)));
            const ni = f64x2.mul(splat(eta), f64x2.sub(f64x2.mul(facing, gr), f64x2.mul(curl, total)));
            there = f64x2.add(there, nr);
            thereIm = f64x2.add(thereIm, ni);
            back = f64x2.add(back, nr);
            backIm = f64x2.add(backIm, ni);
          }
          const o = m << 5;
          gather(one + o, low(there, thereIm));
          gather(one + o + 16, low(back, backIm));
          if (both) {
            gather(two + o, high(there, thereIm));
            gather(two + o + 16, high(back, backIm));
          }
        }
        gather(one + 96, low(re, im));
        if (both) gather(two + 96, high(re, im));
      }
    }
    // Out to the matrices, and back to nothing.
    const row0 = <usize>load<u32>(I + (<usize>p << 2));
    const row1 = <usize>load<u32>(I + ((stride + <usize>p) << 2));
    const row2 = <usize>load<u32>(I + ((2 * stride + <usize>p) << 2));
    for (let c: usize = 0; c < nodes; c++) {
      const at = nodal + (c << 7);
      for (let m: usize = 0; m < 3; m++) {
        const row = m == 0 ? row0 : m == 1 ? row1 : row2;
        const there = (row * nodes + c) << 3;
        const back = (c * nodes + row) << 3;
        const from = at + (m << 5);
        take(ar + there, load<f64>(from));
        take(ai + there, load<f64>(from, 8));
        take(ar + back, load<f64>(from, 16));
        take(ai + back, load<f64>(from, 24));
      }
      const d = (c * <usize>count + <usize>p) << 3;
      take(br + d, load<f64>(at, 96));
      take(bi + d, load<f64>(at, 104));
      for (let o: usize = 0; o < 128; o += 16) v128.store(at + o, splat(0));
    }
  }
}
