import { describe, expect, it } from "vitest";
import { panelEdges } from "./panelEdges.ts";
import { panelGeometry } from "./panelGeometry.ts";
import { regularWaves, solidHarmonics, waveDegree } from "./regularWaves.ts";
import { sphere } from "./sphere.fixture.ts";

const { nodes, ...rest } = sphere(2, 0.25);
const edges = panelEdges(
  panelGeometry({ ...rest, nodes: nodes.map((v, i) => v * [1, 0.7, 0.3][i % 3] + 0.1) }),
);
const centre = [0.12, 0.08, 0.1];
const radius = 0.3;

describe("regularWaves", () => {
  for (const k of [0.5, 6, 18]) {
    const waves = regularWaves(solidHarmonics(edges, centre, radius, waveDegree(18, radius)), k);
    const sum = (a: Float64Array, e: number, b: Float64Array, f: number): number => {
      let total = 0;
      for (let i = 0; i < waves.count; i++) total += a[i * edges.count + e] * b[i * edges.count + f];
      return total;
    };
    const pairs = Array.from({ length: 60 }, (_, i) => [(7 * i) % edges.count, (31 * i + 5) % edges.count]);

    it(`make up sin(kr)/(4 pi r) over k, and its slope across each edge, at k = ${k} 1/m`, () => {
      for (const [e, f] of pairs) {
        const away = [0, 1, 2].map((d) => edges.middle[3 * e + d] - edges.middle[3 * f + d]);
        const r = Math.hypot(...away);
        if (r === 0) continue;
        const right = Math.sin(k * r) / (4 * Math.PI * r) / k;
        const onF = away.reduce((s, v, d) => s + v * edges.facing[3 * f + d], 0);
        const slope = (onF / (4 * Math.PI * k)) * (Math.sin(k * r) / r ** 3 - (k * Math.cos(k * r)) / r ** 2);
        const area = Math.hypot(...edges.facing.subarray(3 * f, 3 * f + 3));
        expect(Math.abs(sum(waves.value, e, waves.value, f) - right)).toBeLessThan(1e-6 / (4 * Math.PI));
        expect(Math.abs(sum(waves.value, e, waves.slope, f) - slope)).toBeLessThan(1e-5 * k * area);
      }
    });
  }
});
