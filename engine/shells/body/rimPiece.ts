import { distanceToPolyline } from "#engine/geometry";
import { emptyTriangle, shellTriangle } from "../elements/shellTriangle.ts";
import { type Laminate, type Layer, laminate } from "../laminate.ts";
import { beamElement } from "./beamElement.ts";
import type { BodyLayout, BodyMesh, BodyPiece } from "./bodyModel.ts";
import type { BodyShellSpec, SidesSpec } from "./bodySpec.ts";
import { sideLining, withLining } from "./liningLayer.ts";
import { massCarriers } from "./massCarriers.ts";
import { finishedPiece, motionsOf, pieceMatrices } from "./pieceMatrices.ts";
import { plateHeight } from "./plateMesh.ts";
import { sideThickness } from "./plateSeat.ts";
import { rigidMass } from "./rigidMass.ts";
import { liningDepths } from "./sideStrip.ts";

/** Sides with the linings' legs on them, blocks, rods, and the point masses they carry. */
export function rimPiece(spec: BodyShellSpec, mesh: BodyMesh, layout: BodyLayout): BodyPiece {
  const { nodes: place, triangles, part } = mesh.surface;
  const sides: number[] = [];
  part.forEach((p, e) => {
    if (p === 2) sides.push(e);
  });
  const carried = massCarriers(spec, layout).filter(({ on }) => on !== "neck");
  const local = new Map<number, number>();
  const nodes: number[] = [];
  const name = (node: number): number => {
    let k = local.get(node);
    if (k === undefined) {
      k = nodes.push(node) - 1;
      local.set(node, k);
    }
    return k;
  };
  const faces = Uint32Array.from(
    sides.flatMap((e) => Array.from(triangles.subarray(3 * e, 3 * e + 3), name)),
  );
  const rods = layout.rodNode.map((chain) =>
    Array.from({ length: chain.length - 1 }, (_, k) => motionsOf([name(chain[k]), name(chain[k + 1])])),
  );
  const blocks = spec.blocks.map((_, b) => motionsOf([name(layout.blockNode[b])]));
  const points = carried.map(({ node }) => motionsOf([name(node)]));
  const made = pieceMatrices(nodes.length, 0, faces, rods.flat());
  const flow = new Float64Array(6 * nodes.length);
  if (spec.sides !== null) {
    const laminateAt = sideLaminates(spec, spec.sides);
    const element = emptyTriangle();
    const corners = new Float64Array(9);
    sides.forEach((e, f) => {
      for (let c = 0; c < 3; c++)
        for (let k = 0; k < 3; k++) corners[3 * c + k] = place[3 * triangles[3 * e + c] + k];
      shellTriangle(corners, laminateAt(corners), element, levelTangent(corners));
      made.addTriangle(faces, 3 * f, element.stiffness, element.loss, element.mass);
      for (let c = 0; c < 3; c++)
        for (let k = 0; k < 6; k++) flow[6 * faces[3 * f + c] + k] += element.flow[6 * c + k];
    });
  }
  spec.rods.forEach((rod, r) => {
    const area = (Math.PI / 4) * (rod.diameter ** 2 - rod.bore ** 2);
    const second = (Math.PI / 64) * (rod.diameter ** 4 - rod.bore ** 4);
    // shear modulus as of an isotropic tube: the twist of a slender rod does nothing for the body
    const G = rod.stiffness / 2.6;
    layout.rodNode[r].subarray(1).forEach((node, k) => {
      const before = layout.rodNode[r][k];
      const e = beamElement(
        layout.places.subarray(3 * before, 3 * before + 3),
        layout.places.subarray(3 * node, 3 * node + 3),
        {
          EA: rod.stiffness * area,
          EIup: rod.stiffness * second,
          EIacross: rod.stiffness * second,
          GJ: 2 * G * second,
          GA: 0,
          massPerLength: rod.density * area,
          polar: 2 * rod.density * second,
          lossE: 0,
          lossG: 0,
        },
      );
      made.add(rods[r][k], e.stiffness, e.loss, e.mass);
    });
  });
  spec.blocks.forEach((box, b) => {
    const p = layout.places.subarray(3 * layout.blockNode[b], 3 * layout.blockNode[b] + 3);
    const arm = [box.centre[0] - p[0], box.centre[1] - p[1], box.centre[2] - p[2]] as const;
    made.add(blocks[b], null, null, rigidMass(box.mass, arm, box.size));
  });
  carried.forEach(({ mass, arm }, k) => {
    made.add(points[k], null, null, rigidMass(mass, arm, [0, 0, 0]));
  });
  return finishedPiece("rim", Uint32Array.from(nodes), made, flow, 0);
}

/** Unit vector along the side: level, in the facet, anticlockwise seen from the front. */
export function levelTangent(p: Float64Array): Float64Array {
  const u = [p[3] - p[0], p[4] - p[1], p[5] - p[2]];
  const v = [p[6] - p[0], p[7] - p[1], p[8] - p[2]];
  // z x normal
  const nx = u[1] * v[2] - u[2] * v[1];
  const ny = u[2] * v[0] - u[0] * v[2];
  const size = Math.hypot(nx, ny);
  return Float64Array.of(-ny / size, nx / size, 0);
}

/** Layers of the side: plies outside first, then the finish. */
export function sideLayers(sides: SidesSpec): Layer[] {
  const thickness = sideThickness(sides);
  const layers: Layer[] = [];
  let z = thickness / 2;
  for (const ply of sides.plies) {
    layers.push({ material: ply.material, angle: ply.grainAngle, bottom: z - ply.thickness, top: z });
    z -= ply.thickness;
  }
  if (sides.film !== null) {
    layers.push({
      material: sides.film.material,
      angle: 0,
      bottom: thickness / 2,
      top: thickness / 2 + sides.film.thickness,
    });
  }
  return layers;
}

/**
 * Laminate of a facet of the side by its place: plies outside first, film, the lining's leg where there is one, and the
 * mass scaled from the height between mid-surfaces (as modelled) to that between the plates' inner faces (as built).
 */
export function sideLaminates(spec: BodyShellSpec, sides: SidesSpec): (corners: Float64Array) => Laminate {
  const thickness = sideThickness(sides);
  const plain = laminate(sideLayers(sides));
  const { topLining, backLining, open } = sides;
  const underTop = topLining && withLining(plain, sideLining(topLining, thickness), 1);
  const overBack = backLining && withLining(plain, sideLining(backLining, thickness), 1);
  const top = plateHeight(spec, "top");
  const back = plateHeight(spec, "back");
  const [upper, lower] = liningDepths(spec);
  const { depthAtTail, depthAtNeck, length } = spec.heights;
  return (c) => {
    const x = (c[0] + c[3] + c[6]) / 3;
    const y = (c[1] + c[4] + c[7]) / 3;
    const height = (c[2] + c[5] + c[8]) / 3;
    const zt = top(x, y);
    const zb = -back(x, y);
    let l = plain;
    if (underTop && height > zt - upper) {
      const scooped = open.some((chain) => distanceToPolyline(chain, x, y) < 1.5 * thickness);
      if (!scooped) l = underTop;
    } else if (overBack && height < zb + lower) l = overBack;
    const scale = (depthAtTail + ((depthAtNeck - depthAtTail) * x) / length) / (zt - zb);
    const [m0, m1, m2] = l.inertia;
    return { ...l, inertia: [m0 * scale, m1 * scale, m2 * scale] };
  };
}
