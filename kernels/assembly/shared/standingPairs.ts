import { addTo, gather, splat } from "./lanes";
import { cosineNear, leftOver, quarterTurns, sineNear, turnedCosine, turnedSine } from "./sineCosine";

// The standing waves alone: cos(kr)/(4 pi r). Row by row of the test's nodes what every edge brings as a field and as an even
// source is summed first (`fields`, `sources`: nodes x stride), then handed on to the edge's two nodes and two panels.
// Every pair is computed once: eight edges e meet all later ones f, which keep in `turned` what they have of each of the
// eight (as fields, as sources: 16 doubles by f) and add it to their own rows afterwards.
export function addStandingPairs(
  k: f64, edges: usize, stride: usize, middles: usize, joins: usize, nodes: usize, panels: usize, a: usize, b: usize,
  scratch: usize,
): void {
  const M = middles << 3;
  const J = joins << 2;
  const line = stride << 3;
  const short = stride << 2;
  const fields = scratch << 3;
  const sources = fields + nodes * line;
  const turned = sources + nodes * line;
  memory.fill(fields, 0, 2 * nodes * line);
  const half: f64 = 0.5 / (4.0 * Math.PI);
  const kk = splat(k);
  for (let from: usize = 0; from < edges; from += 8) {
    const to = from + 8 < edges ? from + 8 : edges;
    memory.fill(turned + (from << 7), 0, (to - from) << 7);
    for (let e = from; e < to; e++) {
      const o = M + (e << 3);
      const i = <usize>load<u32>(J + (e << 2)) * line;
      const j = <usize>load<u32>(J + short + (e << 2)) * line;
      const x = v128.load_splat<f64>(o);
      const y = v128.load_splat<f64>(o + line);
      const z = v128.load_splat<f64>(o + 2 * line);
      const wx = v128.load_splat<f64>(o + 3 * line);
      const wy = v128.load_splat<f64>(o + 4 * line);
      const wz = v128.load_splat<f64>(o + 5 * line);
      const weight = splat(half * load<f64>(o + 8 * line));
      let back = turned + ((e + 1) << 7) + ((e - from) << 3);
      for (let f = e + 1; f < edges; f += 2) {
        const u = M + (f << 3);
        const dx = f64x2.sub(x, v128.load(u));
        const dy = f64x2.sub(y, v128.load(u + line));
        const dz = f64x2.sub(z, v128.load(u + 2 * line));
        const r2 = f64x2.add(f64x2.add(f64x2.mul(dx, dx), f64x2.mul(dy, dy)), f64x2.mul(dz, dz));
        const inverse = f64x2.div(splat(1), f64x2.sqrt(r2));
        const kr = f64x2.mul(kk, f64x2.mul(r2, inverse));
        const turns = quarterTurns(kr);
        const q = leftOver(kr, turns);
        const qq = f64x2.mul(q, q);
        const sp = sineNear(q, qq);
        const cp = cosineNear(qq);
        const wide = i64x2.extend_low_i32x4_s(i32x4.trunc_sat_f64x2_s_zero(turns));
        const sine = turnedSine(sp, cp, wide);
        const cosine = turnedCosine(sp, cp, wide);
        const g = f64x2.mul(cosine, inverse);
        const h = f64x2.mul(
          f64x2.mul(f64x2.add(cosine, f64x2.mul(kr, sine)), inverse),
          f64x2.mul(inverse, inverse),
        );
        const onF = f64x2.add(
          f64x2.add(f64x2.mul(dx, v128.load(u + 3 * line)), f64x2.mul(dy, v128.load(u + 4 * line))),
          f64x2.mul(dz, v128.load(u + 5 * line)),
        );
        const onE = f64x2.add(f64x2.add(f64x2.mul(dx, wx), f64x2.mul(dy, wy)), f64x2.mul(dz, wz));
        const field = f64x2.mul(weight, f64x2.mul(h, onF));
        const source = f64x2.mul(weight, g);
        const column = f << 3;
        const fi = fields + i + column;
        const fj = fields + j + column;
        v128.store(fi, f64x2.sub(v128.load(fi), field));
        v128.store(fj, f64x2.sub(v128.load(fj), field));
        gather(sources + i + column, source);
        gather(sources + j + column, source);
        const turn = f64x2.mul(h, onE);
        v128.store_lane<f64>(back, turn, 0);
        v128.store_lane<f64>(back + 128, turn, 1);
        v128.store_lane<f64>(back + 64, g, 0);
        v128.store_lane<f64>(back + 192, g, 1);
        back += 256;
      }
    }
    for (let f = from + 1; f < edges; f++) {
      const weight = splat(half * load<f64>(M + 8 * line + (f << 3)));
      const own = turned + (f << 7);
      const i = fields + <usize>load<u32>(J + (f << 2)) * line + (from << 3);
      const j = fields + <usize>load<u32>(J + short + (f << 2)) * line + (from << 3);
      const apart = nodes * line;
      for (let c: usize = 0; c < 64; c += 16) {
        const field = f64x2.mul(weight, v128.load(own + c));
        const source = f64x2.mul(weight, v128.load(own + c, 64));
        gather(i + c, field);
        gather(j + c, field);
        gather(i + apart + c, source);
        gather(j + apart + c, source);
      }
    }
  }
  for (let m: usize = 0; m < nodes; m++) {
    const f = fields + m * line;
    const s = sources + m * line;
    const rowA = (a + m * nodes) << 3;
    const rowB = (b + m * panels) << 3;
    for (let e: usize = 0; e < edges; e++) {
      const at = J + (e << 2);
      const third = M + 6 * line + (e << 3);
      const field = 0.5 * load<f64>(f + (e << 3));
      const source = load<f64>(s + (e << 3));
      addTo(rowA + (<usize>load<u32>(at) << 3), field);
      addTo(rowA + (<usize>load<u32>(at + short) << 3), field);
      addTo(rowB + (<usize>load<u32>(at + 2 * short) << 3), source * load<f64>(third));
      addTo(rowB + (<usize>load<u32>(at + 3 * short) << 3), source * load<f64>(third + line));
    }
  }
}
