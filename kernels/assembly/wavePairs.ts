// Wave kernel between the middles of all edges: engine/numerics/kernels/wavePairs.ts says what is added to what.
//
// Two edges f, f + 1 run in the two lanes of every register. With d = x_e - x_f and area vectors W:
//   g = exp(-ikr)/(4 pi r),   h = g (1 + ikr)/r2
//   as test e: -w_e h d.W_f;  as source e: +w_f h d.W_e;  even sources: w g -+ i eta h d.W
// What e exchanges is gathered node by node (8 doubles: test, source, even source, as re, im) and panel by panel (4 doubles:
// even source, plain G); then rows are added to complex matrices in the scratch, whose transposes are turned at the end.
import { gather, high, low, splat } from "./shared/lanes";
import { cosineNear, leftOver, quarterTurns, sineNear, turnedCosine, turnedSine } from "./shared/sineCosine";

export { addStandingPairs } from "./shared/standingPairs";

/** re, im += the complex matrix m (rows x columns) + the transpose of t (columns x rows). */
function turnOut(m: usize, t: usize, re: usize, im: usize, rows: usize, columns: usize): void {
  for (let i: usize = 0; i < rows; i++) {
    for (let j: usize = 0; j < columns; j++) {
      const o = i * columns + j;
      const v = f64x2.add(v128.load(m + (o << 4)), v128.load(t + ((j * rows + i) << 4)));
      store<f64>(re + (o << 3), load<f64>(re + (o << 3)) + f64x2.extract_lane(v, 0));
      store<f64>(im + (o << 3), load<f64>(im + (o << 3)) + f64x2.extract_lane(v, 1));
    }
  }
}

export function addWavePairs(
  k: f64, eta: f64, edges: usize, stride: usize, middles: usize, joins: usize, nodes: usize, panels: usize,
  a: usize, b: usize, pairs: usize, scratch: usize,
): void {
  const M = middles << 3;
  const J = joins << 2;
  const line = stride << 3;
  const short = stride << 2;
  const P = pairs << 3;
  const both = eta != 0;
  // Complex matrices: tests by nodes, its transpose, tests by panels, its transpose; then what is gathered.
  const tests = scratch << 3;
  const turned = tests + ((nodes * nodes) << 4);
  const even = turned + ((nodes * nodes) << 4);
  const evenTurned = even + ((nodes * panels) << 4);
  const nodal = evenTurned + ((nodes * panels) << 4);
  const panel = nodal + (nodes << 6);
  memory.fill(tests, 0, nodal - tests);
  if (both) memory.fill(P, 0, (panels * panels) << 4);
  const quarter: f64 = 1.0 / (4.0 * Math.PI);
  const kk = splat(k);
  const vEta = splat(eta);
  for (let e: usize = 0; e < edges; e++) {
    const o = M + (e << 3);
    const i = <usize>load<u32>(J + (e << 2));
    const j = <usize>load<u32>(J + short + (e << 2));
    const s = <usize>load<u32>(J + 2 * short + (e << 2));
    const t = <usize>load<u32>(J + 3 * short + (e << 2));
    memory.fill(nodal, 0, (nodes << 6) + (panels << 5));
    const x = v128.load_splat<f64>(o);
    const y = v128.load_splat<f64>(o + line);
    const z = v128.load_splat<f64>(o + 2 * line);
    const wx = v128.load_splat<f64>(o + 3 * line);
    const wy = v128.load_splat<f64>(o + 4 * line);
    const wz = v128.load_splat<f64>(o + 5 * line);
    const ws = load<f64>(o + 6 * line);
    const wt = load<f64>(o + 7 * line);
    const w = v128.load_splat<f64>(o + 8 * line);
    const ww = f64x2.add(f64x2.add(f64x2.mul(wx, wx), f64x2.mul(wy, wy)), f64x2.mul(wz, wz));
    // The middle itself: the dynamic share of G.
    const own = -k * quarter;
    const ownRe = f64x2(-eta * k * k * f64x2.extract_lane(ww, 0) * own, 0);
    gather(nodal + (i << 6), ownRe);
    gather(nodal + (j << 6), ownRe);
    const ownW = f64x2.extract_lane(w, 0) * own;
    gather(panel + (s << 5), f64x2(0, ws * ownW));
    gather(panel + (t << 5), f64x2(0, wt * ownW));
    gather(panel + (s << 5) + 16, f64x2(0, 0.5 * ws * own));
    gather(panel + (t << 5) + 16, f64x2(0, 0.5 * wt * own));
    const facingScale = splat(eta * k * k);
    for (let f = e + 1; f < edges; f += 2) {
      const u = M + (f << 3);
      const dx = f64x2.sub(x, v128.load(u));
      const dy = f64x2.sub(y, v128.load(u + line));
      const dz = f64x2.sub(z, v128.load(u + 2 * line));
      const r2 = f64x2.add(f64x2.add(f64x2.mul(dx, dx), f64x2.mul(dy, dy)), f64x2.mul(dz, dz));
      const r = f64x2.sqrt(r2);
      const kr = f64x2.mul(kk, r);
      const turns = quarterTurns(kr);
      const q = leftOver(kr, turns);
      const qq = f64x2.mul(q, q);
      const sp = sineNear(q, qq);
      const cp = cosineNear(qq);
      const wide = i64x2.extend_low_i32x4_s(i32x4.trunc_sat_f64x2_s_zero(turns));
      const sine = turnedSine(sp, cp, wide);
      const cosine = turnedCosine(sp, cp, wide);
      const scale = f64x2.div(splat(quarter), r);
      const square = f64x2.div(splat(1), r2);
      const gr = f64x2.mul(cosine, scale);
      const gi = f64x2.neg(f64x2.mul(sine, scale));
      const hr = f64x2.mul(f64x2.sub(gr, f64x2.mul(kr, gi)), square);
      const hi = f64x2.mul(f64x2.add(gi, f64x2.mul(kr, gr)), square);
      const vx = v128.load(u + 3 * line);
      const vy = v128.load(u + 4 * line);
      const vz = v128.load(u + 5 * line);
      const v = v128.load(u + 8 * line);
      const onF = f64x2.add(f64x2.add(f64x2.mul(dx, vx), f64x2.mul(dy, vy)), f64x2.mul(dz, vz));
      const onE = f64x2.add(f64x2.add(f64x2.mul(dx, wx), f64x2.mul(dy, wy)), f64x2.mul(dz, wz));
      const fr = f64x2.mul(onF, hr);
      const fi = f64x2.mul(onF, hi);
      const er = f64x2.mul(onE, hr);
      const ei = f64x2.mul(onE, hi);
      let thereRe = f64x2.neg(f64x2.mul(w, fr));
      let thereIm = f64x2.neg(f64x2.mul(w, fi));
      let backRe = f64x2.mul(v, er);
      let backIm = f64x2.mul(v, ei);
      let sourceRe = f64x2.mul(v, gr);
      let sourceIm = f64x2.mul(v, gi);
      let panelRe = f64x2.mul(w, gr);
      let panelIm = f64x2.mul(w, gi);
      if (both) {
        const facing = f64x2.mul(
          facingScale,
          f64x2.add(f64x2.add(f64x2.mul(wx, vx), f64x2.mul(wy, vy)), f64x2.mul(wz, vz)),
        );
        const re = f64x2.mul(facing, gi);
        const im = f64x2.mul(facing, gr);
        thereRe = f64x2.sub(thereRe, re);
        thereIm = f64x2.add(thereIm, im);
        backRe = f64x2.sub(backRe, re);
        backIm = f64x2.add(backIm, im);
        sourceRe = f64x2.add(sourceRe, f64x2.mul(vEta, fi));
        sourceIm = f64x2.sub(sourceIm, f64x2.mul(vEta, fr));
        panelRe = f64x2.sub(panelRe, f64x2.mul(vEta, ei));
        panelIm = f64x2.add(panelIm, f64x2.mul(vEta, er));
      }
      const at = J + (f << 2);
      const there0 = low(thereRe, thereIm);
      const there1 = high(thereRe, thereIm);
      const back0 = low(backRe, backIm);
      const back1 = high(backRe, backIm);
      const source0 = low(sourceRe, sourceIm);
      const source1 = high(sourceRe, sourceIm);
      let n = nodal + (<usize>load<u32>(at) << 6);
      gather(n, there0);
      gather(n + 16, back0);
      gather(n + 32, source0);
      n = nodal + (<usize>load<u32>(at + short) << 6);
      gather(n, there0);
      gather(n + 16, back0);
      gather(n + 32, source0);
      n = nodal + (<usize>load<u32>(at + 4) << 6);
      gather(n, there1);
      gather(n + 16, back1);
      gather(n + 32, source1);
      n = nodal + (<usize>load<u32>(at + short + 4) << 6);
      gather(n, there1);
      gather(n + 16, back1);
      gather(n + 32, source1);
      const panel0 = low(panelRe, panelIm);
      const panel1 = high(panelRe, panelIm);
      const p0 = panel + (<usize>load<u32>(at + 2 * short) << 5);
      const p1 = panel + (<usize>load<u32>(at + 3 * short) << 5);
      const p2 = panel + (<usize>load<u32>(at + 2 * short + 4) << 5);
      const p3 = panel + (<usize>load<u32>(at + 3 * short + 4) << 5);
      const t0 = v128.load_splat<f64>(u + 6 * line);
      const t1 = v128.load_splat<f64>(u + 7 * line);
      const t2 = v128.load_splat<f64>(u + 6 * line + 8);
      const t3 = v128.load_splat<f64>(u + 7 * line + 8);
      gather(p0, f64x2.mul(t0, panel0));
      gather(p1, f64x2.mul(t1, panel0));
      gather(p2, f64x2.mul(t2, panel1));
      gather(p3, f64x2.mul(t3, panel1));
      if (both) {
        const plain0 = low(gr, gi);
        const plain1 = high(gr, gi);
        gather(p0 + 16, f64x2.mul(t0, plain0));
        gather(p1 + 16, f64x2.mul(t1, plain0));
        gather(p2 + 16, f64x2.mul(t2, plain1));
        gather(p3 + 16, f64x2.mul(t3, plain1));
      }
    }
    // Rows of the two ends, of the two panels.
    const fourth = splat(0.25);
    const half = splat(0.5);
    const halfS = splat(0.5 * ws);
    const halfT = splat(0.5 * wt);
    let ti = tests + ((i * nodes) << 4);
    let tj = tests + ((j * nodes) << 4);
    let bi = turned + ((i * nodes) << 4);
    let bj = turned + ((j * nodes) << 4);
    let es = evenTurned + ((s * nodes) << 4);
    let et = evenTurned + ((t * nodes) << 4);
    for (let from = nodal; from < panel; from += 64) {
      const test = f64x2.mul(fourth, v128.load(from));
      const back = f64x2.mul(fourth, v128.load(from, 16));
      const source = v128.load(from, 32);
      gather(ti, test);
      gather(tj, test);
      gather(bi, back);
      gather(bj, back);
      gather(es, f64x2.mul(halfS, source));
      gather(et, f64x2.mul(halfT, source));
      ti += 16;
      tj += 16;
      bi += 16;
      bj += 16;
      es += 16;
      et += 16;
    }
    let ei = even + ((i * panels) << 4);
    let ej = even + ((j * panels) << 4);
    let ps = P + ((s * panels) << 4);
    let pt = P + ((t * panels) << 4);
    const end = panel + (panels << 5);
    for (let from = panel; from < end; from += 32) {
      const source = f64x2.mul(half, v128.load(from));
      gather(ei, source);
      gather(ej, source);
      ei += 16;
      ej += 16;
      if (both) {
        const plain = v128.load(from, 16);
        gather(ps, f64x2.mul(splat(ws), plain));
        gather(pt, f64x2.mul(splat(wt), plain));
        ps += 16;
        pt += 16;
      }
    }
  }
  turnOut(tests, turned, a << 3, (a + nodes * nodes) << 3, nodes, nodes);
  turnOut(even, evenTurned, b << 3, (b + nodes * panels) << 3, nodes, panels);
}

export function addWaveCurls(
  eta: f64, nodes: usize, panels: usize, corners: usize, curls: usize, pairs: usize, a: usize, scratch: usize,
): void {
  const I = corners << 2;
  const C = curls << 3;
  const re = a << 3;
  const im = (a + nodes * nodes) << 3;
  const Q = scratch << 3;
  let from = pairs << 3;
  for (let s: usize = 0; s < panels; s++) {
    memory.fill(Q, 0, nodes << 6);
    for (let t: usize = 0; t < panels; t++) {
      const g = v128.load(from);
      from += 16;
      for (let n: usize = 0; n < 3; n++) {
        const to = Q + (<usize>load<u32>(I + ((3 * t + n) << 2)) << 6);
        const c = C + ((9 * t + 3 * n) << 3);
        gather(to, f64x2.mul(v128.load_splat<f64>(c), g));
        gather(to + 16, f64x2.mul(v128.load_splat<f64>(c, 8), g));
        gather(to + 32, f64x2.mul(v128.load_splat<f64>(c, 16), g));
      }
    }
    for (let m: usize = 0; m < 3; m++) {
      const row = <usize>load<u32>(I + ((3 * s + m) << 2));
      const c = C + ((9 * s + 3 * m) << 3);
      const c0 = v128.load_splat<f64>(c);
      const c1 = v128.load_splat<f64>(c, 8);
      const c2 = v128.load_splat<f64>(c, 16);
      for (let n: usize = 0; n < nodes; n++) {
        const q = Q + (n << 6);
        const v = f64x2.mul(
          splat(eta),
          f64x2.add(
            f64x2.add(f64x2.mul(c0, v128.load(q)), f64x2.mul(c1, v128.load(q, 16))),
            f64x2.mul(c2, v128.load(q, 32)),
          ),
        );
        const x = f64x2.extract_lane(v, 0);
        const y = f64x2.extract_lane(v, 1);
        const there = (row * nodes + n) << 3;
        const back = (n * nodes + row) << 3;
        store<f64>(re + there, load<f64>(re + there) + y);
        store<f64>(im + there, load<f64>(im + there) - x);
        store<f64>(re + back, load<f64>(re + back) + y);
        store<f64>(im + back, load<f64>(im + back) - x);
      }
    }
  }
}
