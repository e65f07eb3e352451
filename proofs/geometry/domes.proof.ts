/** Domed plates and the air between them, where they are known in closed form. */
import { type BodySpec, bodyPlan } from "#engine/geometry";
import { opened } from "#engine/numerics";
import { proof } from "#proofs/harness";

const radius = 0.2;

/** A round box: its tail on the origin, its domes with their apexes over its middle. */
function roundBox(topDome: number, backDome: number, depthAtTail: number, depthAtNeck: number): BodySpec {
  const n = 400;
  const points = Float64Array.from({ length: 2 * n }, (_, k) => {
    const angle = Math.PI + (2 * Math.PI * (k >> 1)) / n;
    return k % 2 === 0 ? radius + radius * Math.cos(angle) : radius * Math.sin(angle);
  });
  return {
    outline: { kind: "points", points },
    cutaway: null,
    hole: { kind: "ellipse", centre: [radius, 0], semiAxes: [0.04, 0.04], angle: 0 },
    topDome: { radius: topDome, apex: [radius, 0] },
    backDome: { radius: backDome, apex: [radius, 0] },
    depthAtTail,
    depthAtNeck,
    topThickness: 0.003,
    backThickness: 0.003,
    hand: "right",
  };
}

function capHeight(dome: number, edge: number): number {
  return dome - Math.sqrt(dome * dome - edge * edge);
}

/** Volume pi h^2 (3 R - h) / 3 of a spherical cap over the round box. */
function capVolume(dome: number): number {
  const h = capHeight(dome, radius);
  return (Math.PI * h * h * (3 * dome - h)) / 3;
}

proof(
  "air of a round box: tapered cylinder and two spherical caps",
  {
    source: "CLOSED-FORM pi r^2 (dT + dN)/2 + pi h^2 (3 R - h)/3 for each dome",
    quoted: Math.PI * radius * radius * 0.105 + capVolume(1) + capVolume(0.6),
    relTol: 5e-6,
    because:
      "the domes are integrated over a polygon of 1.5 mm sides whose area is brought to the curve's own",
    mustNotice: { topDome: 1.001, backDome: 0.999, tail: 1.0002, neck: 0.9998 },
  },
  (slip) =>
    opened(
      bodyPlan(
        roundBox(
          slip.topDome ?? 1,
          0.6 * (slip.backDome ?? 1),
          0.12 * (slip.tail ?? 1),
          0.09 * (slip.neck ?? 1),
        ),
      ),
    ).grossVolume,
);

proof(
  "true areas of the domed plates: 2 pi R h of a cap, less the cap over the hole",
  {
    source: "CLOSED-FORM",
    quoted: [
      2 * Math.PI * (capHeight(1, radius) - capHeight(1, 0.04)),
      2 * Math.PI * 0.6 * capHeight(0.6, radius),
      Math.PI * (radius * radius - 0.04 * 0.04),
    ],
    relTol: 1e-6,
    because:
      "the slope is integrated over polygons of about 1 mm sides whose areas are brought to the curves' own",
    mustNotice: { topDome: 1.005, backDome: 1.002 },
  },
  (slip) => {
    const { areas } = opened(bodyPlan(roundBox(slip.topDome ?? 1, 0.6 * (slip.backDome ?? 1), 0.12, 0.09)));
    return [areas.topTrue, areas.backTrue, areas.top];
  },
);
