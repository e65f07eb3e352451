import type { BodyPlan } from "#engine/geometry";
import type { Build } from "#engine/instrument";

/**
 * Mass matrix (6 x 6, row by row: translations x, y, z, then rotations x, y, z about the body frame's origin) of all that
 * moves with the rim as one rigid body: the bent sides with their linings, and the parts the maker lists (blocks, neck,
 * tuners ...). kg, kg m, kg m2.
 */
export function rimBody(build: Build, plan: BodyPlan): Float64Array {
  const mass = new Float64Array(36);
  const { sides, body } = build;
  const film = sides.film === null ? 0 : sides.film.massPerArea;
  const perArea = sides.plies.reduce((sum, ply) => sum + ply.wood.density * ply.thickness, film);
  const edge = plan.outlinePolygon;
  const count = edge.length / 2;
  for (let i = 0; i < count; i++) {
    const j = (i + 1) % count;
    const [ax, ay, bx, by] = [edge[2 * i]!, edge[2 * i + 1]!, edge[2 * j]!, edge[2 * j + 1]!];
    const x = (ax + bx) / 2;
    const depth = depthAt(body, plan.length, x);
    const length = Math.hypot(bx - ax, by - ay);
    const strip = perArea * depth * length;
    // A short stretch of side is a thin plate standing on edge: its own inertia is that of its depth.
    addBox(mass, strip, [x, (ay + by) / 2, -depth / 2], [0, 0, depth]);
    for (const [lining, z] of [
      [sides.topLining, -sides.topLining.height / 2],
      [sides.backLining, sides.backLining.height / 2 - depth],
    ] as const) {
      const perLength = lining.wood.density * lining.width * lining.height;
      addBox(mass, perLength * length, [x, (ay + by) / 2, z], [0, 0, lining.height]);
    }
  }
  for (const part of build.rimParts) addBox(mass, part.mass, part.centre, part.size);
  return mass;
}

/** Depth between the inner faces at the edge, x from the tail, m: straight from tail to neck end. */
export function depthAt(body: Build["body"], length: number, x: number): number {
  const s = Math.min(1, Math.max(0, x / length));
  return body.depthAtTail + (body.depthAtNeck - body.depthAtTail) * s;
}

type Triple = readonly [number, number, number];

/** Adds a box of given mass, centre and edges along the axes. */
function addBox(m: Float64Array, mass: number, [x, y, z]: Triple, [a, b, c]: Triple): void {
  const own = [b * b + c * c, a * a + c * c, a * a + b * b].map((sum) => (mass * sum) / 12);
  const offset = [
    [0, z, -y],
    [-z, 0, x],
    [y, -x, 0],
  ];
  for (let i = 0; i < 3; i++) {
    m[7 * i]! += mass;
    for (let j = 0; j < 3; j++) {
      // u = translation + rotation x r, so the coupling block is minus the cross-product matrix of r
      m[6 * i + 3 + j]! += mass * offset[i]![j]!;
      m[6 * (3 + j) + i]! += mass * offset[i]![j]!;
      let inertia = i === j ? own[i]! : 0;
      for (let k = 0; k < 3; k++) inertia += mass * offset[k]![i]! * offset[k]![j]!;
      m[6 * (3 + i) + 3 + j]! += inertia;
    }
  }
}
