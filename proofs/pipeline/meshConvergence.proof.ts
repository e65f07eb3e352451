/**
 * Mesh convergence of example A: the lowest 20 modes of its top, in vacuo with the edge on the rim, on the default mesh and on one
 * with half the element size. No source but the model itself: it tells that the mesh is fine enough, not that the model is right.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { pointInRegion } from "#engine/geometry";
import { planLocator } from "#engine/meshing";
import { opened, quiet } from "#engine/numerics";
import { defaultBodySettings, meshSize, platePanels } from "#engine/pipeline";
import { type PlateModes, panelMesh, panelModes, panelSystem } from "#engine/shells";
import { openExample } from "./openExample.ts";

const wanted = 20;
const { build, geometry } = openExample("low-radial");
const { top } = platePanels(build, geometry.plan, geometry.board);
const defaultSize = meshSize(geometry.plan.areas.top, defaultBodySettings.nodesPerPlate);

function topModes(size: number, stiffer = 1): PlateModes {
  const panel = { ...top, wood: { ...top.wood, EL: top.wood.EL * stiffer } };
  const mesh = opened(panelMesh(panel, size));
  // a few more than asked, so that the last ones find their partners
  return opened(panelModes(panelSystem(panel, mesh), wanted + 6, quiet));
}

/** Outward motion of each mode on one grid of plan points, linear in each triangle. */
function sampled({ mesh, shapes, count }: PlateModes): Float64Array[] {
  const at = planLocator(mesh.plan, defaultSize);
  const nodes = mesh.nodes.length / 3;
  const rows = Array.from({ length: count }, () => [] as number[]);
  for (let x = 0.01; x < geometry.plan.length; x += 0.012) {
    for (let y = -0.2; y < 0.2; y += 0.012) {
      const place = pointInRegion(geometry.plan.topRegion, x, y) ? at(x, y) : null;
      if (place === null) continue;
      rows.forEach((row, mode) => {
        let w = 0;
        place.barycentric.forEach((weight, corner) => {
          const node = mesh.triangles[3 * place.triangle + corner]!;
          w += weight * shapes[6 * (mode * nodes + node) + 2]!;
        });
        row.push(w);
      });
    }
  }
  return rows.map((row) => Float64Array.from(row));
}

/** Modal assurance criterion of two sampled shapes. */
function mac(a: Float64Array, b: Float64Array): number {
  const dot = (p: Float64Array, q: Float64Array) => p.reduce((sum, v, i) => sum + v * q[i]!, 0);
  return dot(a, b) ** 2 / (dot(a, a) * dot(b, b));
}

/** For each of the lowest modes of `a` the mode of `b` with the likest shape: relative change of frequency and the MAC. */
function matched(a: PlateModes, b: PlateModes): { change: number; mac: number }[] {
  const [shapesA, shapesB] = [sampled(a), sampled(b)];
  return shapesA.slice(0, wanted).map((shape, i) => {
    let best = 0;
    let which = 0;
    shapesB.forEach((other, j) => {
      const like = mac(shape, other);
      if (like > best) [best, which] = [like, j];
    });
    return { change: b.omega[which]! / a.omega[i]! - 1, mac: best };
  });
}

describe("mesh convergence of example A's top", () => {
  let coarse: PlateModes;
  let pairs: { change: number; mac: number }[];
  beforeAll(() => {
    coarse = topModes(defaultSize);
    pairs = matched(coarse, topModes(defaultSize / 2));
    const worst = pairs.reduce((a, b) => (Math.abs(b.change) > Math.abs(a.change) ? b : a));
    process.stdout.write(
      `example A's top: worst change of ${wanted} modes on halving ${(100 * worst.change).toFixed(2)} %, least MAC ${Math.min(...pairs.map((p) => p.mac)).toFixed(3)}\n`,
    );
  });

  it("finds each of the lowest 20 modes again by its shape", () => {
    for (const pair of pairs) expect(pair.mac).toBeGreaterThan(0.9);
  });

  it("moves none of them by 1 % when the element size is halved", () => {
    for (const pair of pairs) expect(Math.abs(pair.change)).toBeLessThan(0.01);
  });

  it("would notice a top 6 % stiffer along the grain", () => {
    const slipped = matched(coarse, topModes(defaultSize, 1.06));
    expect(Math.max(...slipped.map((p) => Math.abs(p.change)))).toBeGreaterThan(0.01);
  });
});
