/** Integrals of the wave kernel exp(-ikr)/(4 pi r) between all pairs of flat triangles. */
import type { KernelMemory } from "./kernelMemory.ts";

/**
 * Triangles as the kernel wants them, places in a kernel memory. Component by component, each `stride` long (even, at
 * least two more than the triangles; the surplus has area 0, corner 0 and points at a distance from all others).
 */
export interface WavePanels {
  readonly count: number;
  readonly stride: number;
  /** 9: x,y,z of the three points at which hats are 2/3, 1/6, 1/6. */
  readonly points: number;
  /** 3: outward unit normal. */
  readonly normals: number;
  /** 9: x,y,z of n x grad(hat) for three hats. */
  readonly curls: number;
  readonly areas: number;
  /** Index place. 3: nodes of the corners. */
  readonly corners: number;
}

export interface WavePairsKernels {
  /**
   * Adds to a (nodes x nodes) and b (nodes x triangles), complex, row by row, for all pairs of different triangles, by
   * three points on each, with hats h_m for the test and h_n for the field, constant sources in b:
   *   a_mn += - integral of h_m h_n dG/dn_y + i eta integral of ( k2 n_x.n_y h_m h_n - curl h_m . curl h_n ) G
   *   b_mt +=   integral of h_m G           - i eta integral of h_m dG/dn_x,          G = exp(-ikr)/(4 pi r), k2 = k^2
   * scratch: place of 108 + 16 nodes doubles.
   */
  addWavePairs(
    k: number,
    eta: number,
    count: number,
    stride: number,
    points: number,
    normals: number,
    curls: number,
    areas: number,
    corners: number,
    nodes: number,
    aRe: number,
    aIm: number,
    bRe: number,
    bIm: number,
    scratch: number,
  ): void;
}

export function typescriptWavePairs({ numbers: x, indices }: KernelMemory): WavePairsKernels {
  // Values at point i of one and point j of the other, then their moments with hats.
  const g = new Float64Array(18);
  const to = new Float64Array(18);
  const from = new Float64Array(18);
  /** Moments with hats of 3 x 3 values, in place: rows, then columns, each v -> v/2 + sum/6. */
  function moments(v: Float64Array): void {
    for (let part = 0; part < 18; part += 9) {
      for (let step = 0; step < 2; step++) {
        const [across, along] = step === 0 ? [3, 1] : [1, 3];
        for (let r = 0; r < 3; r++) {
          const o = part + across * r;
          const sixth = (v[o] + v[o + along] + v[o + 2 * along]) / 6;
          v[o] = 0.5 * v[o] + sixth;
          v[o + along] = 0.5 * v[o + along] + sixth;
          v[o + 2 * along] = 0.5 * v[o + 2 * along] + sixth;
        }
      }
    }
  }
  return {
    addWavePairs(k, eta, count, stride, points, normals, curls, areas, corners, nodes, aRe, aIm, bRe, bIm) {
      for (let p = 0; p < count; p++) {
        const nx = x[normals + p];
        const ny = x[normals + stride + p];
        const nz = x[normals + 2 * stride + p];
        for (let q = p + 1; q < count; q++) {
          const weight = (x[areas + p] * x[areas + q]) / (36 * Math.PI);
          const mx = x[normals + q];
          const my = x[normals + stride + q];
          const mz = x[normals + 2 * stride + q];
          for (let i = 0; i < 3; i++) {
            const o = points + 3 * i * stride + p;
            for (let j = 0; j < 3; j++) {
              const u = points + 3 * j * stride + q;
              const dx = x[o] - x[u];
              const dy = x[o + stride] - x[u + stride];
              const dz = x[o + 2 * stride] - x[u + 2 * stride];
              const inverse = 1 / Math.sqrt(dx * dx + dy * dy + dz * dz);
              const kr = k / inverse;
              const c = Math.cos(kr) * inverse * weight;
              const s = Math.sin(kr) * inverse * weight;
              const e = 3 * i + j;
              g[e] = c;
              g[9 + e] = -s;
              const square = inverse * inverse;
              const hr = (c + kr * s) * square;
              const hi = (kr * c - s) * square;
              const dq = dx * mx + dy * my + dz * mz;
              const dp = -(dx * nx + dy * ny + dz * nz);
              to[e] = hr * dq; // source on q
              to[9 + e] = hi * dq;
              from[e] = hr * dp; // source on p
              from[9 + e] = hi * dp;
            }
          }
          moments(g);
          moments(to);
          moments(from);
          let total = 0;
          let totalIm = 0;
          if (eta !== 0) {
            for (let e = 0; e < 9; e++) {
              total += g[e];
              totalIm += g[9 + e];
            }
          }
          const facing = k * k * (nx * mx + ny * my + nz * mz);
          for (let m = 0; m < 3; m++) {
            const row = indices[corners + m * stride + p];
            const rowOfQ = indices[corners + m * stride + q];
            for (let n = 0; n < 3; n++) {
              const column = indices[corners + n * stride + q];
              const e = 3 * m + n;
              const there = row * nodes + column;
              const back = column * nodes + row;
              x[aRe + there] -= to[e];
              x[aIm + there] -= to[9 + e];
              x[aRe + back] -= from[e];
              x[aIm + back] -= from[9 + e];
              if (eta === 0) continue;
              let curl = 0;
              for (let d = 0; d < 3; d++) {
                curl += x[curls + (3 * m + d) * stride + p] * x[curls + (3 * n + d) * stride + q];
              }
              const re = -eta * (facing * g[9 + e] - curl * totalIm);
              const im = eta * (facing * g[e] - curl * total);
              x[aRe + there] += re;
              x[aIm + there] += im;
              x[aRe + back] += re;
              x[aIm + back] += im;
            }
            // Tested on p, source on all of q; dG/dn_x there is the kernel of `from`. And the other way round.
            const b = row * count + q;
            const d = rowOfQ * count + p;
            for (let n = 0; n < 3; n++) {
              const e = 3 * m + n;
              const f = 3 * n + m;
              x[bRe + b] += g[e] + eta * from[9 + e];
              x[bIm + b] += g[9 + e] - eta * from[e];
              x[bRe + d] += g[f] + eta * to[9 + f];
              x[bIm + d] += g[9 + f] - eta * to[f];
            }
          }
        }
      }
    },
  };
}
