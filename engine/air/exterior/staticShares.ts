import type { NearPairs } from "./nearPairs.ts";
import type { PanelGeometry } from "./panelGeometry.ts";

const quarter = 1 / (4 * Math.PI);

/** What it is added to: nodes x nodes and nodes x panels, real parts, then imaginary parts if eta is not 0. */
interface SurfaceMatrices {
  readonly geometry: PanelGeometry;
  readonly near: NearPairs;
  readonly matrix: Float64Array;
  readonly sources: Float64Array;
}

/**
 * The halves of the equations of `factorWaves`, and the static share that the plain rule misses between near panels. With eta = 0
 * it does not depend on k.
 */
export function addStaticShares(s: SurfaceMatrices, k: number, eta: number): void {
  addNear(s, k, eta);
  addHalves(s, eta);
}

function addNear({ near, geometry: g, matrix, sources }: SurfaceMatrices, k: number, eta: number): void {
  const { nodes, panels, corner, normal, curl } = g;
  const { missing } = near;
  const im = nodes * nodes;
  const bIm = nodes * panels;
  for (let p = 0; p < near.count; p++) {
    const a = near.panel[2 * p];
    const b = near.panel[2 * p + 1];
    const o = 27 * p;
    let total = 0;
    for (let e = o; e < o + 9; e++) total += missing[e];
    const facing =
      normal[3 * a] * normal[3 * b] +
      normal[3 * a + 1] * normal[3 * b + 1] +
      normal[3 * a + 2] * normal[3 * b + 2];
    for (let m = 0; m < 3; m++) {
      for (let n = 0; n < 3; n++) {
        const e = o + 3 * m + n;
        const row = corner[3 * a + m];
        const column = corner[3 * b + n];
        const there = row * nodes + column;
        const back = column * nodes + row;
        const single = quarter * missing[e];
        const onB = quarter * missing[9 + e];
        const onA = quarter * missing[18 + e];
        sources[row * panels + b] += single;
        if (a !== b) sources[column * panels + a] += single;
        matrix[there] -= onB;
        matrix[back] -= onA;
        if (eta === 0) continue;
        sources[bIm + row * panels + b] -= eta * onA;
        sources[bIm + column * panels + a] -= eta * onB;
        let dot = 0;
        for (let d = 0; d < 3; d++) dot += curl[9 * a + 3 * m + d] * curl[9 * b + 3 * n + d];
        const both = eta * (k * k * facing * single - quarter * dot * total);
        matrix[im + there] += both;
        if (a !== b) matrix[im + back] += both;
      }
    }
  }
}

function addHalves({ geometry: g, matrix, sources }: SurfaceMatrices, eta: number): void {
  const { nodes, panels, corner, area } = g;
  const bIm = nodes * panels;
  for (let t = 0; t < panels; t++) {
    for (let m = 0; m < 3; m++) {
      const row = corner[3 * t + m];
      if (eta !== 0) sources[bIm + row * panels + t] -= (eta * area[t]) / 6;
      for (let n = 0; n < 3; n++)
        matrix[row * nodes + corner[3 * t + n]] += (area[t] * (m === n ? 2 : 1)) / 24;
    }
  }
}
