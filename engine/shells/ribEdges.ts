import { edgeFrame } from "./edgeFrame.ts";
import type { BeamSection } from "./elements/edgeBeam.ts";
import type { Panel } from "./panel.ts";
import { ribSection } from "./ribSection.ts";
import type { ShellMesh } from "./shellMesh.ts";
import { thicknessAt } from "./thicknessAt.ts";

/** One rib element as edgeBeam.ts has it. */
export interface RibEdge {
  readonly nodes: readonly [number, number];
  readonly length: number;
  readonly tangent: readonly number[];
  readonly normal: readonly number[];
  /** At the fraction xi of the element from its first node. */
  readonly section: (xi: number) => BeamSection;
}

/** The elements of one rib in order; `slope` as in ribElements. */
export function ribEdges(panel: Panel, mesh: ShellMesh, r: number, slope: number): RibEdge[] {
  const plan = mesh.plan.nodes;
  const chain = mesh.ribs[r];
  const pieces = Array.from({ length: chain.length - 1 }, (_, k) =>
    Math.hypot(
      plan[2 * chain[k + 1]] - plan[2 * chain[k]],
      plan[2 * chain[k + 1] + 1] - plan[2 * chain[k] + 1],
    ),
  );
  const total = pieces.reduce((a, b) => a + b, 0);
  let run = 0;
  return pieces.map((piece, k) => {
    const [i, j] = [chain[k], chain[k + 1]];
    const thickness = thicknessAt(
      panel.thickness,
      (plan[2 * i] + plan[2 * j]) / 2,
      (plan[2 * i + 1] + plan[2 * j + 1]) / 2,
    );
    const start = run;
    run += piece;
    return {
      nodes: [i, j],
      ...edgeFrame(mesh, panel.dome, i, j, slope),
      section: (xi) => ribSection(panel.ribs[r], (start + xi * piece) / total, thickness),
    };
  });
}
