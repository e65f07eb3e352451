import { expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { footprintRotation } from "./panelStatic.ts";
import { panelMesh } from "./shellMesh.ts";

const nothing = { L: 0, R: 0, LR: 0, transverse: 0 };
const wood = {
  density: 400,
  EL: 1e10,
  ER: 1e9,
  nuLR: 0.3,
  GLR: 7e8,
  GLT: 7e8,
  GRT: 5e7,
  loss: nothing,
};

const mesh = opened(
  panelMesh(
    {
      outline: Float64Array.of(0, 0, 0.2, 0, 0.2, 0.16, 0, 0.16),
      holes: [],
      dome: null,
      wood,
      thickness: 0.003,
      grainAngle: 0,
      ribs: [],
      patches: [],
      film: null,
      edge: { kind: "free" },
    },
    0.016,
  ),
);

it("rotation of a footprint is the slope under it, also where the mesh does not follow its edges", () => {
  // uz = (x - 0.1)2 / 2: the least-squares line over x0 .. x1 rises by (x0 + x1)/2 - 0.1
  const motion = new Float64Array(2 * mesh.nodes.length);
  for (let k = 0; k < motion.length / 6; k++) motion[6 * k + 2] = (mesh.nodes[3 * k] - 0.1) ** 2 / 2;
  for (const [x0, x1] of [
    [0.121, 0.151],
    [0.127, 0.157],
    [0.033, 0.063],
  ] as const) {
    const footprint = Float64Array.of(x0, 0.03, x1, 0.03, x1, 0.13, x0, 0.13);
    const slope = (x0 + x1) / 2 - 0.1;
    expect(footprintRotation({ mesh }, motion, footprint) / -slope).toBeCloseTo(1, 1.5);
  }
});

it("tells a slanted bridge's turn apart from its tilt along itself", () => {
  // a plane: turned by 0.01 about y, and rising by 0.03 along y, which a line against x alone would take for more of a turn
  const motion = new Float64Array(2 * mesh.nodes.length);
  for (let k = 0; k < motion.length / 6; k++)
    motion[6 * k + 2] = -0.01 * mesh.nodes[3 * k] + 0.03 * mesh.nodes[3 * k + 1];
  const slanted = Float64Array.of(0.05, 0.03, 0.08, 0.03, 0.14, 0.13, 0.11, 0.13);
  expect(footprintRotation({ mesh }, motion, slanted)).toBeCloseTo(0.01, 12);
});
