/** A hole that breaks the edge, where what is left is known in closed form. */
import { type BodySpec, bodyPlan, polygonArea, polygonDifference, polylineLength } from "#engine/geometry";
import { opened } from "#engine/numerics";
import { proof } from "#proofs/harness";

/** A regular polygon of the same area as a circle. */
function disc(cx: number, radius: number, sides: number): Float64Array {
  const turn = (2 * Math.PI) / sides;
  const reach = radius * Math.sqrt(turn / Math.sin(turn));
  return Float64Array.from({ length: 2 * sides }, (_, k) =>
    k % 2 === 0 ? cx + reach * Math.cos((k >> 1) * turn) : reach * Math.sin((k >> 1) * turn),
  );
}

/** Area common to circles of radii a and b whose centres lie d apart (they cross). */
function lens(a: number, b: number, d: number): number {
  const atA = Math.acos((d * d + a * a - b * b) / (2 * d * a));
  const atB = Math.acos((d * d + b * b - a * a) / (2 * d * b));
  return a * a * (atA - Math.sin(2 * atA) / 2) + b * b * (atB - Math.sin(2 * atB) / 2);
}

proof(
  "a disc of 60 mm taken off a disc of 200 mm whose edge it crosses: what is left and what is shared",
  {
    source: "CLOSED-FORM two circular segments",
    quoted: [Math.PI * 0.04 - lens(0.2, 0.06, 0.18), lens(0.2, 0.06, 0.18)],
    relTol: 2e-5,
    because: "both circles are polygons of 900 sides with the circles' areas",
    mustNotice: { apart: 1.001, small: 1.001 },
  },
  (slip) => {
    const cut = polygonDifference(
      disc(0, 0.2, 900),
      disc(0.18 * (slip.apart ?? 1), 0.06 * (slip.small ?? 1), 900),
      1e-9,
    );
    return [polygonArea(cut.pieces[0]), polygonArea(cut.shared[0])];
  },
);

proof(
  "a round top of 200 mm with a hole of 60 mm over its edge: area of the top, of the hole inside, length of open edge",
  {
    source: "CLOSED-FORM two circular segments; the arc 2 r acos((d^2 + r^2 - b^2) / 2 d r)",
    quoted: [
      Math.PI * 0.04 - lens(0.2, 0.06, 0.18),
      lens(0.2, 0.06, 0.18),
      0.4 * Math.acos((0.18 ** 2 + 0.2 ** 2 - 0.06 ** 2) / (2 * 0.18 * 0.2)),
    ],
    relTol: 1e-3,
    because: "the plan's own polygons, 1.5 mm a side for areas and 6 mm for the open edge's chords",
    mustNotice: { apart: 1.005, small: 1.005 },
  },
  (slip) => {
    const points = Float64Array.from({ length: 800 }, (_, k) => {
      const angle = Math.PI + (2 * Math.PI * (k >> 1)) / 400;
      return k % 2 === 0 ? 0.2 + 0.2 * Math.cos(angle) : 0.2 * Math.sin(angle);
    });
    const small = 0.06 * (slip.small ?? 1);
    const spec: BodySpec = {
      outline: { kind: "points", points },
      cutaway: null,
      hole: { kind: "ellipse", centre: [0.2, 0.18 * (slip.apart ?? 1)], semiAxes: [small, small], angle: 0 },
      topDome: null,
      backDome: null,
      depthAtTail: 0.1,
      depthAtNeck: 0.1,
      topThickness: 0.003,
      backThickness: 0.003,
      hand: "right",
    };
    const plan = opened(bodyPlan(spec));
    return [plan.areas.top, plan.areas.holeInside, polylineLength(plan.openEdge[0])];
  },
);
