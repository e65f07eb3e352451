import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import type { ExteriorSpec } from "./exterior.ts";
import { exteriorSurface } from "./exteriorSurface.ts";
import { apertureFlows, panelFlows } from "./panelFlows.ts";
import { panelGeometry } from "./panelGeometry.ts";
import { surfaceFaults } from "./surfaceFaults.ts";
import { surfaceMeasures } from "./surfaceMeasures.ts";

/** An egg with a waist, anticlockwise from the tail; m. */
const outline = Float64Array.from({ length: 240 }, (_, i) => {
  const a = (Math.PI * (i - (i % 2))) / 120 + Math.PI;
  const r = 0.2 + 0.03 * Math.cos(2 * a) + 0.01 * Math.cos(a);
  return i % 2 === 0 ? 0.24 + 1.1 * r * Math.cos(a) : r * Math.sin(a);
});

const circle = (x: number, y: number, r: number): Float64Array =>
  Float64Array.from({ length: 120 }, (_, i) => {
    const a = (Math.PI * (i - (i % 2))) / 60;
    return i % 2 === 0 ? x + r * Math.cos(a) : y + r * Math.sin(a);
  });

const plain: ExteriorSpec = {
  outline,
  top: { at: 0.002, perX: 0, dome: { radius: 8, apex: [0.2, 0] } },
  back: { at: -0.115, perX: 0.05, dome: { radius: 4.5, apex: [0.2, 0] } },
  hole: { polygon: circle(0.34, 0, 0.05), scoop: 0.02 },
};

const areaOf = (spec: ExteriorSpec, panels: number): number[] => {
  const surface = opened(exteriorSurface(spec, panels));
  const g = panelGeometry(surface);
  const sums = [0, 0, 0, 0];
  surface.part.forEach((part, t) => {
    sums[part] += g.area[t];
  });
  return sums;
};

describe("exteriorSurface", () => {
  for (const [name, spec] of [
    ["with its hole inside", plain],
    ["closed", { ...plain, hole: null }],
    ["with its hole across the edge", { ...plain, hole: { polygon: circle(0.3, 0.16, 0.05), scoop: 0.02 } }],
  ] as const) {
    it(`makes a closed surface of the body ${name}, within the panels allowed`, () => {
      for (const most of [300, 700]) {
        const surface = opened(exteriorSurface(spec, most));
        expect(surfaceFaults(surface)).toEqual([]);
        expect(surface.triangles.length / 3).toBeLessThanOrEqual(most);
        expect(surface.triangles.length / 3).toBeGreaterThan(0.6 * most);
      }
    });
  }

  it("encloses the volume under the two domes", () => {
    // Plan area by the shoelace rule, depth at many points of the plan.
    let area = 0;
    let volume = 0;
    const n = outline.length / 2;
    const height = (x: number, y: number) => {
      const drop = (R: number) => Math.sqrt(R * R - (x - 0.2) ** 2 - y * y) - R;
      return 0.002 + drop(8) + 0.115 - 0.05 * x + drop(4.5);
    };
    for (let i = 0; i < n; i++) {
      const [x, y, u, v] = [0, 1, 2, 3].map((o) => outline[(2 * i + o) % (2 * n)]);
      const wedge = (x * v - u * y) / 2; // about the origin, a point of the outline
      area += wedge;
      for (let k = 0; k < 40; k++) {
        const f = (k + 0.5) / 40;
        for (let m = 0; m < 8; m++) {
          const g = (m + 0.5) / 8;
          volume += ((wedge * 2 * f) / 320) * height(f * (x + g * (u - x)), f * (y + g * (v - y)));
        }
      }
    }
    const fine = surfaceMeasures(panelGeometry(opened(exteriorSurface(plain, 1500))));
    const coarse = surfaceMeasures(panelGeometry(opened(exteriorSurface(plain, 500))));
    expect(area).toBeGreaterThan(0.1);
    expect(Math.abs(fine.volume / volume - 1)).toBeLessThan(0.005);
    expect(Math.abs(coarse.volume / volume - 1)).toBeLessThan(0.015);
  });

  it("opens the whole hole, and the side below it where it crosses the edge", () => {
    const inside = areaOf(plain, 1200);
    expect(inside[3] / (Math.PI * 0.05 ** 2)).toBeGreaterThan(0.95);
    expect(inside[3] / (Math.PI * 0.05 ** 2)).toBeLessThan(1.01);
    const across = { ...plain, hole: { polygon: circle(0.3, 0.16, 0.05), scoop: 0.02 } };
    const scooped = areaOf(across, 1200);
    const flat = areaOf({ ...across, hole: { ...across.hole, scoop: 0 } }, 1200);
    expect(scooped[3] - flat[3]).toBeGreaterThan(0.02 * 0.06);
    expect(scooped[2] - flat[2]).toBeLessThan(-0.02 * 0.06);
    expect(Math.abs(scooped[2] + scooped[3] - flat[2] - flat[3])).toBeLessThan(0.01 * flat[2]);
  });

  it("refuses a body whose back lies above its top", () => {
    expect(exteriorSurface({ ...plain, back: { ...plain.back, at: 0.05 } }, 700)).toMatchObject({
      ok: false,
      reason: "no-depth",
    });
  });
});

describe("surfaceFaults", () => {
  const good = opened(exteriorSurface({ ...plain, hole: null }, 300));
  it("notices a missing panel, a turned panel and a surface inside out", () => {
    expect(
      surfaceFaults({ ...good, triangles: good.triangles.slice(3), part: good.part.slice(1) }),
    ).not.toEqual([]);
    const turned = good.triangles.slice();
    turned.set([turned[1], turned[0]], 0);
    expect(surfaceFaults({ ...good, triangles: turned })).not.toEqual([]);
    const inward = good.triangles.slice();
    for (let t = 0; t < inward.length; t += 3) inward.set([inward[t + 1], inward[t]], t);
    expect(surfaceFaults({ ...good, triangles: inward })).toEqual(["the normals point inward"]);
  });
});

describe("panelFlows", () => {
  const fine = opened(exteriorSurface({ ...plain, hole: null }, 4000));
  const coarse = opened(exteriorSurface(plain, 500));
  const places = fine.nodes.length / 3;
  const motions = new Float64Array(2 * 3 * places);
  for (let p = 0; p < places; p++) {
    const [x, y, z] = fine.nodes.subarray(3 * p, 3 * p + 3);
    motions.set([Math.sin(9 * y), Math.cos(7 * x), x * x + z], 3 * p);
    motions.set([x - 0.2, y, z], 3 * (places + p));
  }
  const flows = panelFlows(coarse, fine, motions);

  it("keeps the volume flow of every part", () => {
    const g = panelGeometry(coarse);
    const f = panelGeometry(fine);
    for (let i = 0; i < 2; i++) {
      for (const part of [0, 1, 2]) {
        let ours = 0;
        for (let t = 0; t < g.panels; t++)
          if (coarse.part[t] === part) ours += g.area[t] * flows[i * g.panels + t];
        let wanted = 0;
        for (let t = 0; t < f.panels; t++) {
          if (fine.part[t] !== part) continue;
          for (let d = 0; d < 3; d++) {
            const mean = [0, 1, 2].reduce(
              (s, m) => s + motions[3 * (i * places + f.corner[3 * t + m]) + d] / 3,
              0,
            );
            wanted += f.area[t] * f.normal[3 * t + d] * mean;
          }
        }
        expect(Math.abs(ours - wanted)).toBeLessThan(1e-13);
      }
      for (let t = 0; t < g.panels; t++) if (coarse.part[t] === 3) expect(flows[i * g.panels + t]).toBe(0);
    }
  });

  it("gives each panel what moves beneath it", () => {
    const g = panelGeometry(coarse);
    let gap = 0;
    let size = 0;
    for (let t = 0; t < g.panels; t++) {
      if (coarse.part[t] === 3) continue;
      const [x, y, z] = g.centre.subarray(3 * t, 3 * t + 3);
      const wanted = (x - 0.2) * g.normal[3 * t] + y * g.normal[3 * t + 1] + z * g.normal[3 * t + 2];
      gap += g.area[t] * (flows[g.panels + t] - wanted) ** 2;
      size += g.area[t] * wanted ** 2;
    }
    expect(Math.sqrt(gap / size)).toBeLessThan(0.15);
  });

  it("gives short waves back what the mean over a panel takes: within 7 %, not 15 %", () => {
    const q = 30;
    const wave = new Float64Array(3 * places);
    for (let p = 0; p < places; p++)
      wave[3 * p + 2] = Math.cos(q * fine.nodes[3 * p]) * Math.cos(q * fine.nodes[3 * p + 1]);
    const g = panelGeometry(coarse);
    const found = panelFlows(coarse, fine, wave);
    let ours = 0;
    let wanted = 0;
    let even = 0;
    for (let t = 0; t < g.panels; t++) {
      if (coarse.part[t] !== 1) continue; // the back: no hole
      const [p, k, r] = [0, 1, 2].map((m) =>
        g.place.subarray(3 * g.corner[3 * t + m], 3 * g.corner[3 * t + m] + 2),
      );
      let mean = 0;
      let square = 0;
      for (let i = 0; i < 8; i++) {
        for (let j = 0; i + j < 8; j++) {
          const [u, v] = [(i + 1 / 3) / 8, (j + 1 / 3) / 8];
          const [a, b] = [0, 1].map((d) => p[d] + u * (k[d] - p[d]) + v * (r[d] - p[d]));
          const here = Math.cos(q * a) * Math.cos(q * b);
          mean += here / 36;
          square += (here * here) / 36;
        }
      }
      // What a field of the same wave takes from the panels, against what it takes from the motion itself.
      ours -= g.area[t] * found[t] * mean;
      even += g.area[t] * mean * mean;
      wanted += g.area[t] * square;
    }
    expect(even / wanted).toBeLessThan(0.87);
    expect(Math.abs(ours / wanted - 1)).toBeLessThan(0.07);
  });

  it("puts the flow through pieces of the hole on the aperture, and keeps it", () => {
    const centroids = Float64Array.of(0.32, 0, 0, 0.36, 0.02, 0, 0.34, -0.03, 0);
    const out = apertureFlows(coarse, centroids, Float64Array.of(1, 2, 3, 0, -1, 1));
    const g = panelGeometry(coarse);
    const total = (i: number) => g.area.reduce((s, a, t) => s + a * out[i * g.panels + t], 0);
    expect(total(0)).toBeCloseTo(6, 12);
    expect(total(1)).toBeCloseTo(0, 12);
    coarse.part.forEach((part, t) => {
      if (part !== 3) expect(out[t]).toBe(0);
    });
  });
});
