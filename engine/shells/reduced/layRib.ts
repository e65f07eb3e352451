import {
  addElements,
  done,
  failed,
  type Outcome,
  type SparseSymmetric,
  symmetricPattern,
} from "#engine/numerics";
import { motionsOfNodes } from "../body/motionRows.ts";
import { seatedRib } from "../body/plateSeat.ts";
import { ribStrips, underStrip } from "../elementLaminates.ts";
import { emptyTriangle, shellTriangle } from "../elements/shellTriangle.ts";
import type { PanelRib } from "../panel.ts";
import { thicknessAt } from "../thicknessAt.ts";
import { followed } from "./beamFollowers.ts";
import { type LaidBeam, laidBeam } from "./laidBeam.ts";
import type { StructureChange } from "./reducedModel.ts";
import type { RibGround } from "./ribGround.ts";

/**
 * What a rib adds to its plate where it is laid along a line that the mesh knows nothing of: its beam, whose ends are points of
 * the plate's triangles, and its footprint on the laminates. Along its own line that is the rib itself but for the inertia of its turns
 * against the plate, which follow at rest; beside it what a triangle is too stiff for is made up (`lineGives`). The rows are the ground's.
 * The plate's edge cuts it. Fails with 'rib-outside' where the line leaves the ground.
 */
export function layRib(
  ground: RibGround,
  rib: PanelRib,
): Outcome<readonly [beam: StructureChange, footprint: StructureChange]> {
  const laid = laidRib(ground, rib);
  if (!laid.ok) return laid;
  const [{ motions, stiffness, following, ...loose }, footprint] = laid.value;
  const [mass, lossStiffness] = [loose.mass, loose.lossStiffness].map((a) =>
    followed(a, following, stiffness.n, false),
  );
  return done([{ motions, stiffness, mass, lossStiffness }, footprint]);
}

/** The same, the beam's followers told apart. */
export function laidRib(
  ground: RibGround,
  rib: PanelRib,
): Outcome<readonly [beam: LaidBeam, footprint: StructureChange]> {
  const [seated] = rib === ground.rib ? [rib] : seatedRib(rib, ground.panel.outline, ground.panel.holes);
  if (seated === undefined) return failed("rib-outside", "the rib leaves its plate");
  const beam = laidBeam(ground, seated);
  return beam.ok ? done([beam.value, footprintChange(ground, seated)]) : beam;
}

/** What the rib's footprint adds to the triangles under it. */
function footprintChange({ mesh, laminates, motions, panel }: RibGround, rib: PanelRib): StructureChange {
  const strips = ribStrips(rib);
  const p = mesh.plan.nodes;
  const flat = new Float64Array(6);
  const faces: { readonly e: number; readonly laminate: (typeof laminates)[number] }[] = [];
  laminates.forEach((own, e) => {
    for (let c = 0; c < 3; c++) {
      flat[2 * c] = p[2 * mesh.triangles[3 * e + c]];
      flat[2 * c + 1] = p[2 * mesh.triangles[3 * e + c] + 1];
    }
    const area = ((flat[2] - flat[0]) * (flat[5] - flat[1]) - (flat[4] - flat[0]) * (flat[3] - flat[1])) / 2;
    const x = (flat[0] + flat[2] + flat[4]) / 3;
    const y = (flat[1] + flat[3] + flat[5]) / 3;
    const thickness = thicknessAt(panel.thickness, x, y);
    const laminate = strips.reduce((l, strip) => underStrip(l, strip, flat, area, thickness), own);
    if (laminate !== own) faces.push({ e, laminate });
  });
  const local = new Int32Array(mesh.nodes.length / 3).fill(-1);
  const nodes: number[] = [];
  const lists = faces.map(({ e }) =>
    Int32Array.from({ length: 18 }, (_, q) => {
      const node = mesh.triangles[3 * e + Math.floor(q / 6)];
      if (local[node] < 0) local[node] = nodes.push(node) - 1;
      return 6 * local[node] + (q % 6);
    }),
  );
  const stiffness = symmetricPattern(6 * nodes.length, lists);
  const like = (): SparseSymmetric => ({ ...stiffness, values: new Float64Array(stiffness.values.length) });
  const lossStiffness = like();
  const [bare, laid] = [emptyTriangle(), emptyTriangle()];
  const corners = new Float64Array(9);
  faces.forEach(({ e, laminate }, f) => {
    for (let c = 0; c < 3; c++) {
      const node = mesh.triangles[3 * e + c];
      for (let k = 0; k < 3; k++) corners[3 * c + k] = mesh.nodes[3 * node + k];
    }
    shellTriangle(corners, laminates[e], bare);
    shellTriangle(corners, laminate, laid);
    for (const [a, b] of [
      [laid.stiffness, bare.stiffness],
      [laid.loss, bare.loss],
    ])
      for (let i = 0; i < a.length; i++) a[i] -= b[i];
    addElements([stiffness, lossStiffness], lists[f], [laid.stiffness, laid.loss]);
  });
  return {
    motions: motionsOfNodes(motions, nodes),
    stiffness,
    lossStiffness,
    mass: like(),
  };
}
