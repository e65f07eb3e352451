/**
 * Mesh convergence of example A: the lowest modes of the whole strung body, in vacuo, on the default mesh and on one 1.6 times finer
 * (some 20,000 shell nodes). No source but the model itself: it tells that the mesh is fine enough, not that the model is right.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { pointInRegion } from "#engine/geometry";
import { planLocator } from "#engine/meshing";
import { opened } from "#engine/numerics";
import { defaultBodySettings, madeBody, strungShell } from "#engine/pipeline";
import { type BodyModes, bodyModes, joinedSystem } from "#engine/shells";
import { crew, fast } from "./coarseBody.ts";
import { openExample } from "./openExample.ts";

const wanted = 30;
const { build, geometry, strings } = openExample("low-radial");

async function bodyOf(finer: number, stiffer = 1): Promise<BodyModes> {
  const { wood } = build.top;
  const changed = { ...build, top: { ...build.top, wood: { ...wood, EL: wood.EL * stiffer } } };
  const { top, back, side } = defaultBodySettings.meshSize;
  const meshSize = { top: top / finer, back: back / finer, side: side / finer };
  const spec = strungShell(changed, geometry, strings);
  const ctx = fast.stage("", 0, 1);
  const made = opened(await madeBody(spec, { ...defaultBodySettings, meshSize }, crew, ctx));
  const system = opened(joinedSystem(made.spec, made.mesh, made.plates));
  return opened(bodyModes(system, [], 800, ctx));
}

/** Normal motion of top and back on one grid of plan points, by mode, linear in each triangle. */
function sampled({ mesh, shapes, count, rigidCount, surface }: BodyModes): Float64Array[] {
  const rows = Array.from({ length: count }, () => [] as number[]);
  const nodes = surface.nodes.length / 3;
  const plates = [
    [mesh.top, mesh.topNode],
    [mesh.back, mesh.backNode],
  ] as const;
  for (const [plate, bodyNode] of plates) {
    const at = planLocator(plate!.plan, 0.01);
    for (let x = 0.01; x < geometry.plan.length; x += 0.012) {
      for (let y = -0.2; y < 0.2; y += 0.012) {
        const place = pointInRegion(geometry.plan.topRegion, x, y) ? at(x, y) : null;
        if (place === null) continue;
        rows.forEach((row, mode) => {
          let w = 0;
          place.barycentric.forEach((weight, corner) => {
            const node = bodyNode[plate!.triangles[3 * place.triangle + corner]!]!;
            w += weight * shapes[3 * ((rigidCount + mode) * nodes + node) + 2]!;
          });
          row.push(w);
        });
      }
    }
  }
  return rows.map((row) => Float64Array.from(row));
}

/** Modal assurance criterion of two sampled shapes. */
function mac(a: Float64Array, b: Float64Array): number {
  const dot = (p: Float64Array, q: Float64Array) => p.reduce((sum, v, i) => sum + v * q[i]!, 0);
  return dot(a, b) ** 2 / (dot(a, a) * dot(b, b));
}

/**
 * For each of the lowest modes of `a` the mode of `b` with the likest shape: relative change of frequency, and the share of the
 * shape that the two likest modes of `b` hold together (two modes of nearly one frequency mix differently on every mesh).
 */
function matched(a: BodyModes, b: BodyModes): { change: number; mac: number }[] {
  const [shapesA, shapesB] = [sampled(a), sampled(b)];
  return shapesA.slice(0, wanted).map((shape, i) => {
    const like = shapesB.map((other) => mac(shape, other));
    const order = like.map((_, k) => k).sort((p, q) => like[q]! - like[p]!);
    const [first, second] = [order[0]!, order[1]!];
    return { change: b.omega[first]! / a.omega[i]! - 1, mac: like[first]! + like[second]! };
  });
}

describe("mesh convergence of example A's body", () => {
  let usual: BodyModes;
  let pairs: { change: number; mac: number }[];
  beforeAll(async () => {
    usual = await bodyOf(1);
    pairs = matched(usual, await bodyOf(1.6));
    const worst = pairs.reduce((a, b) => (Math.abs(b.change) > Math.abs(a.change) ? b : a));
    process.stdout.write(
      `example A's body: worst change of ${wanted} modes on a mesh 1.6 times finer ${(100 * worst.change).toFixed(2)} %, least share of a shape found again ${Math.min(...pairs.map((p) => p.mac)).toFixed(3)}\n`,
    );
  });

  it("finds each of the lowest modes again by its shape", () => {
    for (const pair of pairs) expect(pair.mac).toBeGreaterThan(0.95);
  });

  it("moves none of them by 1 % when the mesh is refined", () => {
    for (const pair of pairs) expect(Math.abs(pair.change)).toBeLessThan(0.01);
  });

  it("would notice a top 10 % stiffer along the grain", async () => {
    const slipped = matched(usual, await bodyOf(1, 1.1));
    expect(Math.max(...slipped.map((p) => Math.abs(p.change)))).toBeGreaterThan(0.01);
  });
});
