/**
 * What a plate's matrices cost by triangle: laminates, element matrices, and all with scattering into the sparse matrices.
 * Example A's top at two mesh sizes; least of several runs, microseconds of one thread. Run: node tools/run.mjs timings/assembly.ts
 */
import { opened } from "#engine/numerics";
import { panelMesh, panelSystem } from "#engine/shells";
import { elementLaminates } from "../engine/shells/elementLaminates.ts";
import { emptyTriangle, shellTriangle } from "../engine/shells/elements/shellTriangle.ts";
import { exampleTop } from "./topMatrices.ts";

const panel = exampleTop();
const runs = 7;

function least(work: () => void): number {
  let best = Number.POSITIVE_INFINITY;
  for (let k = 0; k < runs; k++) {
    const begun = performance.now();
    work();
    best = Math.min(best, performance.now() - begun);
  }
  return best;
}

for (const size of [0.0118, 0.0083]) {
  const begun = performance.now();
  const mesh = opened(panelMesh(panel, size));
  const meshing = performance.now() - begun;
  const triangles = mesh.triangles.length / 3;
  const laminates = elementLaminates(panel, mesh);
  const element = emptyTriangle();
  const corners = new Float64Array(9);
  const per = (ms: number): string => `${((1000 * ms) / triangles).toFixed(1).padStart(6)} us`;
  process.stdout.write(
    [
      `${mesh.nodes.length / 3} nodes, ${triangles} triangles, meshed in ${meshing.toFixed(0)} ms (${size === 0.0118 ? "cold" : "warm"})`,
      `  laminates          ${per(least(() => elementLaminates(panel, mesh)))}`,
      `  element matrices   ${per(
        least(() => {
          for (let e = 0; e < triangles; e++) {
            for (let c = 0; c < 3; c++)
              for (let k = 0; k < 3; k++) corners[3 * c + k] = mesh.nodes[3 * mesh.triangles[3 * e + c] + k];
            shellTriangle(corners, laminates[e], element);
          }
        }),
      )}`,
      `  all, scattered     ${per(least(() => panelSystem(panel, mesh)))}`,
      "",
    ].join("\n"),
  );
}
