/** Integrals of the wave kernel exp(-ikr)/(4 pi r) over a closed surface of flat triangles, by the middles of their edges. */
import type { KernelMemory } from "./kernelMemory.ts";

/**
 * Places of a surface in a kernel memory. The middles of a triangle's three edges with a third of its area each are a rule
 * exact to degree 2, and two triangles share each of them; there the hats of the edge's two ends are a half.
 */
export interface WaveSurface {
  readonly edges: number;
  readonly nodes: number;
  readonly panels: number;
  /** Even, at least two more than the edges; surplus edges have no weight and lie far from all others. */
  readonly stride: number;
  /**
   * 9 rows of `stride`: x,y,z of the middle; x,y,z of the sum of a third of both area vectors; a third of the area of the
   * first, of the second panel and of both.
   */
  readonly middles: number;
  /** Index place, 4 rows of `stride`: nodes at the two ends, first and second panel. */
  readonly joins: number;
  /** Index place: 3 nodes by panel. */
  readonly corners: number;
  /** 9 by panel: x,y,z of n x grad(hat) of its three hats. */
  readonly curls: number;
}

export interface WavePairsKernels {
  /**
   * Adds to a (nodes x nodes) and b (nodes x panels), complex (all real parts, then all imaginary ones), row by row, the sums
   * over pairs of middles x, y of edges, with hats h_m for the test and h_n for the field, even sources on panels in b:
   *   a_mn += - sum h_m h_n dG/dn_y + i eta k2 sum h_m h_n G n_x.n_y;   b_mt += sum h_m G - i eta sum h_m dG/dn_x
   * G = exp(-ikr)/(4 pi r); where x = y, G counts as its dynamic share -ik/(4 pi) and its slopes as nothing.
   * If eta is not 0, `pairs` (panels x panels, complex numbers one after the other) receives U with U + U' = sum G by panels.
   * scratch: 4 nodes (nodes + panels) + 8 nodes + 4 panels doubles.
   */
  addWavePairs(
    k: number,
    eta: number,
    edges: number,
    stride: number,
    middles: number,
    joins: number,
    nodes: number,
    panels: number,
    a: number,
    b: number,
    pairs: number,
    scratch: number,
  ): void;
  /**
   * The same with the standing waves alone, G = cos(kr)/(4 pi r), and the plain equation; a and b real:
   *   a_mn += - sum h_m h_n dG/dn_y;   b_mt += sum h_m G;   nothing where x = y
   * scratch: 2 nodes stride + 16 stride doubles.
   */
  addStandingPairs(
    k: number,
    edges: number,
    stride: number,
    middles: number,
    joins: number,
    nodes: number,
    panels: number,
    a: number,
    b: number,
    scratch: number,
  ): void;
  /**
   * a_mn += - i eta sum over panels s, t of curl h_m . curl h_n (U + U')_st with the U of `addWavePairs`.
   * scratch: 8 nodes doubles.
   */
  addWaveCurls(
    eta: number,
    nodes: number,
    panels: number,
    corners: number,
    curls: number,
    pairs: number,
    a: number,
    scratch: number,
  ): void;
}

const quarter = 1 / (4 * Math.PI);

export function typescriptWavePairs({ numbers: x, indices }: KernelMemory): WavePairsKernels {
  return {
    addWavePairs(k, eta, edges, stride, middles, joins, nodes, panels, a, b, pairs) {
      const aIm = a + nodes * nodes;
      const bIm = b + nodes * panels;
      // What edge e exchanges with each node: as test, as source, its even source; and with each panel's even source.
      const nodal = new Float64Array(6 * nodes);
      const panel = new Float64Array(2 * panels);
      const plain = new Float64Array(2 * panels);
      if (eta !== 0) x.fill(0, pairs, pairs + 2 * panels * panels);
      for (let e = 0; e < edges; e++) {
        const o = middles + e;
        const i = indices[joins + e];
        const j = indices[joins + stride + e];
        const s = indices[joins + 2 * stride + e];
        const t = indices[joins + 3 * stride + e];
        const wx = x[o + 3 * stride];
        const wy = x[o + 4 * stride];
        const wz = x[o + 5 * stride];
        const ws = x[o + 6 * stride];
        const wt = x[o + 7 * stride];
        const w = x[o + 8 * stride];
        nodal.fill(0);
        panel.fill(0);
        plain.fill(0);
        const own = -k * quarter;
        const ownRe = -eta * k * k * (wx * wx + wy * wy + wz * wz) * own;
        nodal[6 * i] += ownRe;
        nodal[6 * j] += ownRe;
        panel[2 * s + 1] += w * ws * own;
        panel[2 * t + 1] += w * wt * own;
        plain[2 * s + 1] += 0.5 * ws * own;
        plain[2 * t + 1] += 0.5 * wt * own;
        for (let f = e + 1; f < edges; f++) {
          const u = middles + f;
          const dx = x[o] - x[u];
          const dy = x[o + stride] - x[u + stride];
          const dz = x[o + 2 * stride] - x[u + 2 * stride];
          const inverse = 1 / Math.sqrt(dx * dx + dy * dy + dz * dz);
          const kr = k / inverse;
          const gr = quarter * inverse * Math.cos(kr);
          const gi = -quarter * inverse * Math.sin(kr);
          const square = inverse * inverse;
          const hr = (gr - kr * gi) * square;
          const hi = (gi + kr * gr) * square;
          const vx = x[u + 3 * stride];
          const vy = x[u + 4 * stride];
          const vz = x[u + 5 * stride];
          const v = x[u + 8 * stride];
          const onF = dx * vx + dy * vy + dz * vz;
          const onE = dx * wx + dy * wy + dz * wz;
          const facing = eta * k * k * (wx * vx + wy * vy + wz * vz);
          const bothRe = -facing * gi;
          const bothIm = facing * gr;
          const thereRe = bothRe - w * onF * hr;
          const thereIm = bothIm - w * onF * hi;
          const backRe = bothRe + v * onE * hr;
          const backIm = bothIm + v * onE * hi;
          const sourceRe = v * gr + eta * onF * hi;
          const sourceIm = v * gi - eta * onF * hr;
          for (let end = 0; end < 2; end++) {
            const n = 6 * indices[joins + end * stride + f];
            nodal[n] += thereRe;
            nodal[n + 1] += thereIm;
            nodal[n + 2] += backRe;
            nodal[n + 3] += backIm;
            nodal[n + 4] += sourceRe;
            nodal[n + 5] += sourceIm;
            const q = 2 * indices[joins + (2 + end) * stride + f];
            const third = x[u + (6 + end) * stride];
            panel[q] += third * (w * gr - eta * onE * hi);
            panel[q + 1] += third * (w * gi + eta * onE * hr);
            plain[q] += third * gr;
            plain[q + 1] += third * gi;
          }
        }
        for (let n = 0; n < nodes; n++) {
          const v = 6 * n;
          for (const end of [i, j]) {
            x[a + end * nodes + n] += 0.25 * nodal[v];
            x[aIm + end * nodes + n] += 0.25 * nodal[v + 1];
            x[a + n * nodes + end] += 0.25 * nodal[v + 2];
            x[aIm + n * nodes + end] += 0.25 * nodal[v + 3];
          }
          x[b + n * panels + s] += 0.5 * ws * nodal[v + 4];
          x[bIm + n * panels + s] += 0.5 * ws * nodal[v + 5];
          x[b + n * panels + t] += 0.5 * wt * nodal[v + 4];
          x[bIm + n * panels + t] += 0.5 * wt * nodal[v + 5];
        }
        for (let q = 0; q < panels; q++) {
          for (const end of [i, j]) {
            x[b + end * panels + q] += 0.5 * panel[2 * q];
            x[bIm + end * panels + q] += 0.5 * panel[2 * q + 1];
          }
        }
        if (eta === 0) continue;
        for (let q = 0; q < 2 * panels; q++) {
          x[pairs + 2 * panels * s + q] += ws * plain[q];
          x[pairs + 2 * panels * t + q] += wt * plain[q];
        }
      }
    },
    addStandingPairs(k, edges, stride, middles, joins, nodes, panels, a, b) {
      for (let e = 0; e < edges; e++) {
        const o = middles + e;
        for (let f = 0; f < edges; f++) {
          if (f === e) continue;
          const u = middles + f;
          const dx = x[o] - x[u];
          const dy = x[o + stride] - x[u + stride];
          const dz = x[o + 2 * stride] - x[u + 2 * stride];
          const r = Math.sqrt(dx * dx + dy * dy + dz * dz);
          const cosine = Math.cos(k * r);
          const scale = (0.5 * quarter * x[o + 8 * stride]) / r;
          const onF = dx * x[u + 3 * stride] + dy * x[u + 4 * stride] + dz * x[u + 5 * stride];
          const field = (0.5 * scale * onF * (cosine + k * r * Math.sin(k * r))) / (r * r);
          const source = scale * cosine;
          for (let end = 0; end < 2; end++) {
            const m = indices[joins + end * stride + e];
            for (let way = 0; way < 2; way++) {
              x[a + m * nodes + indices[joins + way * stride + f]] -= field;
              x[b + m * panels + indices[joins + (2 + way) * stride + f]] +=
                source * x[u + (6 + way) * stride];
            }
          }
        }
      }
    },
    addWaveCurls(eta, nodes, panels, corners, curls, pairs, a) {
      const aIm = a + nodes * nodes;
      const gathered = new Float64Array(6 * nodes);
      for (let s = 0; s < panels; s++) {
        gathered.fill(0);
        for (let t = 0; t < panels; t++) {
          const re = x[pairs + 2 * (s * panels + t)];
          const im = x[pairs + 2 * (s * panels + t) + 1];
          for (let n = 0; n < 3; n++) {
            const v = 6 * indices[corners + 3 * t + n];
            for (let d = 0; d < 3; d++) {
              const c = x[curls + 9 * t + 3 * n + d];
              gathered[v + 2 * d] += c * re;
              gathered[v + 2 * d + 1] += c * im;
            }
          }
        }
        for (let m = 0; m < 3; m++) {
          const row = indices[corners + 3 * s + m];
          for (let n = 0; n < nodes; n++) {
            let re = 0;
            let im = 0;
            for (let d = 0; d < 3; d++) {
              const c = x[curls + 9 * s + 3 * m + d];
              re += c * gathered[6 * n + 2 * d];
              im += c * gathered[6 * n + 2 * d + 1];
            }
            x[a + row * nodes + n] += eta * im;
            x[aIm + row * nodes + n] -= eta * re;
            x[a + n * nodes + row] += eta * im;
            x[aIm + n * nodes + row] -= eta * re;
          }
        }
      }
    },
  };
}
