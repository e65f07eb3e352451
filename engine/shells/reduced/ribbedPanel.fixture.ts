import { opened } from "#engine/numerics";
import { elementLaminates } from "../elementLaminates.ts";
import type { Panel, PanelRib } from "../panel.ts";
import { panelSystem } from "../panelSystem.ts";
import { panelMesh } from "../shellMesh.ts";
import { spruce } from "../spruce.fixture.ts";
import type { ReduciblePlate } from "./reducedModel.ts";

/** A hinged sheet, 300 x 200 mm, with one rib (its ends moved across by a and b, m), of our own invention. */
export function ribbedPanel(a: number, b: number, dome: Panel["dome"] = null): Panel {
  return {
    outline: Float64Array.of(0, 0, 0.3, 0, 0.3, 0.2, 0, 0.2),
    holes: [],
    dome,
    wood: spruce,
    thickness: 0.0028,
    grainAngle: 0,
    ribs: [panelRib(a, b)],
    patches: [],
    film: null,
    edge: { kind: "hinged" },
  };
}

/** The rib alone; `more`: longer by so much at both ends, m. */
export function panelRib(a: number, b: number, more = 0): PanelRib {
  const half = 0.1 + more;
  const [c, s] = [Math.cos(0.3), Math.sin(0.3)];
  return {
    path: Float64Array.of(
      0.15 - c * half - a * s,
      0.1 - s * half + a * c,
      0.15 + c * half - b * s,
      0.1 + s * half + b * c,
    ),
    width: 0.007,
    heights: [
      [0, 0.002],
      [0.25, 0.009],
      [0.75, 0.009],
      [1, 0.002],
    ],
    material: { density: 430, EL: 13e9, G: 0.8e9, ET: 0.8e9, loss: { L: 0.006, G: 0.015, T: 0.02 } },
    side: "inside",
  };
}

/** The panel assembled, and as the reduced model takes a plate. */
export function reduciblePanel(panel: Panel, size: number) {
  const mesh = opened(panelMesh(panel, size));
  const system = panelSystem(panel, mesh);
  const turns = mesh.ribs.reduce((sum, chain) => sum + chain.length, 0);
  const motions = system.dof.length + turns;
  const start = new Uint32Array(motions + 1);
  const row: number[] = [];
  let next = system.dof.reduce((most, d) => Math.max(most, d), -1) + 1;
  for (let k = 0; k < motions; k++) {
    const own = k < system.dof.length ? system.dof[k] : next++;
    if (own >= 0) row.push(own);
    start[k + 1] = row.length;
  }
  const plate: ReduciblePlate = {
    panel,
    mesh,
    own: null,
    motions: { start, row: Uint32Array.from(row), weight: new Float64Array(row.length).fill(1) },
    slope: 0,
    laminates: elementLaminates,
    overhang: () => [],
  };
  return { system, plate };
}
