/** Lengths, areas and curvatures of known curves, and the two measures of fairness. */
import {
  type BodySpec,
  bodyPlan,
  curveCurvature,
  curveLength,
  curvePoint,
  type FairPlace,
  fairCurve,
  fairness,
} from "#engine/geometry";
import { opened } from "#engine/numerics";
import { proof } from "#proofs/harness";

const body: BodySpec = {
  outline: { kind: "points", points: ring(64, 0.2, 0.2) },
  cutaway: null,
  hole: { kind: "ellipse", centre: [0.2, 0], semiAxes: [0.1, 0.1 * Math.SQRT1_2], angle: 0.3 },
  topDome: null,
  backDome: null,
  depthAtTail: 0.1,
  depthAtNeck: 0.1,
  topThickness: 0.003,
  backThickness: 0.003,
  hand: "right",
};

/** n points on a circle, the first at the origin, the third of them moved out by a factor. */
function ring(n: number, radius: number, centre: number, factor = 1): Float64Array {
  return Float64Array.from({ length: 2 * n }, (_, k) => {
    const i = k >> 1;
    const angle = Math.PI + (2 * Math.PI * i) / n;
    const at = i === 2 ? radius * factor : radius;
    return k % 2 === 0 ? centre + at * Math.cos(angle) : at * Math.sin(angle);
  });
}

proof(
  "perimeter 4 a E(1/2) and area pi a b of an ellipse with b = a / sqrt 2",
  {
    source:
      "CLOSED-FORM E(m = 1/2) = 1.3506438810476755 (complete elliptic integral, evaluated by quadrature)",
    quoted: [0.4 * 1.3506438810476755, Math.PI * 0.01 * Math.SQRT1_2],
    relTol: 1e-9,
    because: "the curve meets the ellipse in place and two derivatives at 96 knots",
    mustNotice: { long: 1.000001, short: 1.000001 },
  },
  (slip) => {
    const semiAxes = [0.1 * (slip.long ?? 1), 0.1 * Math.SQRT1_2 * (slip.short ?? 1)] as const;
    const plan = opened(
      bodyPlan({ ...body, hole: { kind: "ellipse", centre: [0.2, 0], semiAxes, angle: 0.3 } }),
    );
    return [curveLength(plan.hole), plan.areas.hole];
  },
);

proof(
  "curvature of an ellipse at the ends of its axes, a/b^2 and b/a^2, and bending energy of a circle, 2 pi / r",
  {
    source: "CLOSED-FORM",
    quoted: [20, 10 * Math.SQRT1_2, (2 * Math.PI) / 0.05],
    relTol: 1e-8,
    because: "the curve meets the ellipse in place and two derivatives at 96 knots",
    mustNotice: { long: 1.0001, radius: 1.0001 },
  },
  (slip) => {
    const semiAxes = [0.1 * (slip.long ?? 1), 0.1 * Math.SQRT1_2] as const;
    const { hole } = opened(
      bodyPlan({ ...body, hole: { kind: "ellipse", centre: [0.2, 0], semiAxes, angle: 0.3 } }),
    );
    const span = hole.knots[hole.knots.length - 1];
    const r = 0.05 * (slip.radius ?? 1);
    const round = opened(
      bodyPlan({ ...body, hole: { kind: "ellipse", centre: [0.2, 0], semiAxes: [r, r], angle: 0 } }),
    );
    return [curveCurvature(hole, 0), curveCurvature(hole, span / 4), fairness(round, "hole").bendingEnergy];
  },
);

proof(
  "a spline through points of a circle finds its curvature with the second order of the spacing, its place with the fourth",
  {
    source:
      "CLOSED-FORM a cubic spline errs by h^4 in value and h^2 in second derivative (textbook approximation theory)",
    quoted: [2, 2, 4, 4],
    absTol: 0.1,
    because: "observed orders at 16, 32 and 64 points still approach their limits",
    mustNotice: { onePoint: 1.0001 },
  },
  (slip) => {
    const errors = [16, 32, 64].map((n) => {
      const points = ring(n, 0.2, 0.2, slip.onePoint ?? 1);
      const { outline } = opened(bodyPlan({ ...body, outline: { kind: "points", points } }));
      const span = outline.knots[outline.knots.length - 1];
      let bend = 0;
      let place = 0;
      for (let i = 0; i < 1000; i++) {
        const t = (span * i) / 1000;
        bend = Math.max(bend, Math.abs(curveCurvature(outline, t) * 0.2 - 1));
        const [x, y] = curvePoint(outline, t);
        place = Math.max(place, Math.abs(Math.hypot(x - 0.2, y) / 0.2 - 1));
      }
      return [bend, place];
    });
    const order = (k: 0 | 1, i: number): number => Math.log2(errors[i][k] / errors[i + 1][k]);
    return [order(0, 0), order(0, 1), order(1, 0), order(1, 1)];
  },
);

/** The corners of a square of side 1 in the order of an anticlockwise outline, each with the heading across its corner. */
function squareCorners(factor: number, fixed: boolean, curvature: number | null): FairPlace[] {
  const half = 0.5 * factor;
  return [
    [-half, -half],
    [half, -half],
    [half, half],
    [-half, half],
  ].map(([x, y], i) => ({
    point: [x, y] as const,
    heading: fixed ? -Math.PI / 4 + (i * Math.PI) / 2 : null,
    curvature,
  }));
}

const cornerHeadings = [0, 1, 2, 3].map((i) => -Math.PI / 4 + (i * Math.PI) / 2);

// Free elastica: k = k0 sqrt(cos f), f the heading from the middle of a side, 45 degrees at the corners. With
// I = integral of sqrt(cos f) from -45 to 45 degrees: side = I / k0, energy of a side = k0 I = I^2 / side.
const elasticaIntegral = 1.4886061595209858;

proof(
  "bending energy of the least-bent closed curve through the corners of a square: four arcs of rectangular elastica",
  {
    source: "CLOSED-FORM 4 I^2, I by quadrature; a circle through them has 2 pi sqrt 2 = 8.886",
    quoted: 4 * elasticaIntegral ** 2,
    relTol: 1e-6,
    because: "least energy errs by the square of the curve's own error",
    mustNotice: { side: 1.00001 },
  },
  (slip) => {
    const curve = opened(fairCurve(squareCorners(slip.side ?? 1, false, null), cornerHeadings, "bending"));
    const span = curve.knots[curve.knots.length - 1];
    let energy = 0;
    const steps = 4000;
    for (let i = 0; i < steps; i++)
      energy += (curveCurvature(curve, ((i + 0.5) / steps) * span) ** 2 * span) / steps;
    return energy;
  },
);

proof(
  "its curvature at the middles of the sides and at the corners",
  {
    source: "CLOSED-FORM I and I 2^(-1/4)",
    quoted: [elasticaIntegral, elasticaIntegral * 2 ** -0.25],
    relTol: 1e-3,
    because:
      "curvature runs straight over 12 pieces a side, an error of order 1/12^2 of its second difference",
    mustNotice: { side: 1.003 },
  },
  (slip) => {
    const curve = opened(fairCurve(squareCorners(slip.side ?? 1, false, null), cornerHeadings, "bending"));
    const span = curve.knots[curve.knots.length - 1];
    return [curveCurvature(curve, span / 8), curveCurvature(curve, 0)];
  },
);

proof(
  "the curve of least change of curvature through the corners, headed as their circle, is the circle",
  {
    source: "CLOSED-FORM constant curvature changes least",
    quoted: Array.from({ length: 5 }, () => Math.SQRT2),
    relTol: 3e-7,
    because: "a circle lies in the space of the solver; the record interpolates it between knots to 4e-8",
    mustNotice: { side: 1.000002 },
  },
  (slip) => {
    const curve = opened(fairCurve(squareCorners(slip.side ?? 1, true, null), cornerHeadings, "variation"));
    const span = curve.knots[curve.knots.length - 1];
    return [0, 0.13, 0.3, 0.52, 0.9].map((f) => curveCurvature(curve, f * span));
  },
);
