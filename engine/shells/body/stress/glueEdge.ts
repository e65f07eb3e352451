import { type Polygon, polygonArea } from "#engine/geometry";
import { laminate } from "../../laminate.ts";
import { plateLayers } from "../../plateLayers.ts";
import { thicknessAt } from "../../thicknessAt.ts";
import type { GlueLineSpec, RangedStress } from "./glueSpec.ts";
import type { NodalStrains } from "./nodalStrains.ts";
import type { PlateGauge } from "./plateStress.ts";

/** A thin sheet (first) glued to one whose end is free, at the edge of the joint; forces and stiffness for each metre of edge. */
interface Bond {
  /** -w'' of the sheet as it comes to the edge, its shear force (Q = dM/ds, M = D curvature), stretch of its glued face. */
  readonly curvature: number;
  readonly shearForce: number;
  readonly stretch: number;
  /** Bending stiffness and axial stiffness of both. */
  readonly D: readonly [number, number];
  readonly EA: readonly [number, number];
  /** N/m3, across and along the joint. */
  readonly bed: number;
  readonly shearBed: number;
}

/**
 * Peel (opening above zero) and size of the shear at the very edge, Pa. With delta = w2 - w1 opening the joint,
 *   delta'''' + 4 beta4 delta = 0,  4 beta4 = k (1/D1 + 1/D2),  delta''(0) = curvature,  delta'''(0) = Q / D1:
 *   peel(0) = k [curvature / (2 beta2) + Q / (2 D1 beta3)];
 *   shear(0) = ks |stretch| / lambda,  lambda2 = 4 ks (1/EA1 + 1/EA2)   (sheets of even thickness, free to bend).
 * HETENYI, VOLKERSEN-1938, from memory.
 */
export function bondEdge({ curvature, shearForce, stretch, D, EA, bed, shearBed }: Bond): {
  readonly peel: number;
  readonly shear: number;
} {
  const beta = ((bed * (1 / D[0] + 1 / D[1])) / 4) ** 0.25;
  const lambda = Math.sqrt(4 * shearBed * (1 / EA[0] + 1 / EA[1]));
  return {
    peel: bed * (curvature / (2 * beta ** 2) + shearForce / (2 * D[0] * beta ** 3)),
    shear: (shearBed * Math.abs(stretch)) / lambda,
  };
}

/** A stretch of a footprint's edge on its tail side; (nx, ny): unit normal into the footprint. */
export interface RearEdge {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
  readonly length: number;
  readonly nx: number;
  readonly ny: number;
}

/** The edges of a footprint that look towards the tail within 45 degrees. */
export function rearEdges(polygon: Polygon): RearEdge[] {
  const sense = Math.sign(polygonArea(polygon));
  const edges: RearEdge[] = [];
  for (let i = 0; i < polygon.length; i += 2) {
    const j = (i + 2) % polygon.length;
    const [dx, dy] = [polygon[j] - polygon[i], polygon[j + 1] - polygon[i + 1]];
    const length = Math.hypot(dx, dy);
    if (length === 0) continue;
    const [nx, ny] = [(-sense * dy) / length, (sense * dx) / length];
    if (nx > Math.SQRT1_2) edges.push({ x: polygon[i], y: polygon[i + 1], dx, dy, length, nx, ny });
  }
  return edges;
}

/** Step of the samples along the edge; a sample takes the nearest node of the bare top within `reach`. m */
const step = 0.002;
const reach = 0.012;

/**
 * Shares of the woods' thickness whose give counts to the joint's: likely half of the top and as much of the bridge; the ends of
 * the range a quarter and the whole.
 */
const depths = { high: 0.25, likely: 0.5, low: 1 } as const;

/**
 * Stress of the glue at the bridge's rear edge from the strains of the top just behind it, on the line's own small scale.
 *
 *         bridge  |=========      s into the joint, delta = w(bridge) - w(top), opening positive
 *   ===top========|=========
 *
 * Top and bridge are beams on a bed (`bondEdge`) that holds film and the woods' own give: 1/bed = t/E + d (h1/E1 + h2/E2)
 * through the thickness, 1/shearBed = t/G + d (h1/G1 + h2/G2). The coupling of peel and shear of Goland and Reissner (J. Appl.
 * Mech. 11, A17, 1944, from memory) is left out. The range is that of the depth d of wood that gives: a fillet of glue lowers
 * the peak, a feathered or lifted edge does away with it.
 * Null where no node of the top lies behind the edge.
 */
export function glueEdge(
  gauge: PlateGauge,
  found: NodalStrains,
  rear: readonly RearEdge[],
  spec: GlueLineSpec,
): { readonly peel: RangedStress; readonly meanPeel: number; readonly shear: RangedStress } | null {
  const behind = bareNodes(gauge, found, spec);
  const bridge = gauge.panel.patches[spec.patches[0]];
  let peel: RangedStress | null = null;
  let shear: RangedStress | null = null;
  let sum = 0;
  let count = 0;
  for (const edge of rear) {
    const samples = Math.max(1, Math.round(edge.length / step));
    for (let k = 0; k < samples; k++) {
      const f = (k + 0.5) / samples;
      const [x, y] = [edge.x + f * edge.dx, edge.y + f * edge.dy];
      const at = nearest(gauge, found, behind, x, y);
      if (at < 0) continue;
      const state = edgeState(gauge, found, at, edge);
      const patches = spec.patches.map((p) => gauge.panel.patches[p]);
      const glued = nearestPatch(patches, x, y) ?? bridge;
      const values = (share: number) => jointEdge(state, glued, gauge, spec, share);
      const [low, likely, high] = [values(depths.low), values(depths.likely), values(depths.high)];
      sum += likely.peel;
      count++;
      if (peel === null || likely.peel > peel.likely)
        peel = { low: low.peel, likely: likely.peel, high: high.peel, x, y };
      if (shear === null || likely.shear > shear.likely)
        shear = { low: low.shear, likely: likely.shear, high: high.shear, x, y };
    }
  }
  return peel === null || shear === null ? null : { peel, meanPeel: sum / count, shear };
}

/** Pairs (node, region) of the top that no piece of the bridge lies on. */
function bareNodes({ regions }: PlateGauge, found: NodalStrains, { patches }: GlueLineSpec): number[] {
  const bare: number[] = [];
  found.region.forEach((region, k) => {
    if (region !== 0 && !regions.regions[region].patches.some((p) => patches.includes(p))) bare.push(k);
  });
  return bare;
}

function nearest(
  { mesh }: PlateGauge,
  found: NodalStrains,
  among: readonly number[],
  x: number,
  y: number,
): number {
  let best = -1;
  let least = reach;
  for (const k of among) {
    const node = found.node[k];
    const away = Math.hypot(mesh.plan.nodes[2 * node] - x, mesh.plan.nodes[2 * node + 1] - y);
    if (away < least) {
      least = away;
      best = k;
    }
  }
  return best;
}

function nearestPatch<P extends { readonly polygon: Polygon }>(
  patches: readonly P[],
  x: number,
  y: number,
): P | null {
  let best: P | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const patch of patches) {
    for (let i = 0; i < patch.polygon.length; i += 2) {
      const j = (i + 2) % patch.polygon.length;
      const [ax, ay] = [patch.polygon[i], patch.polygon[i + 1]];
      const [dx, dy] = [patch.polygon[j] - ax, patch.polygon[j + 1] - ay];
      const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
      const away = Math.hypot(ax + t * dx - x, ay + t * dy - y);
      if (away < least) {
        least = away;
        best = patch;
      }
    }
  }
  return best;
}

/** The top behind the edge, seen along the normal into the bridge. */
interface EdgeState {
  readonly angle: number;
  readonly thickness: number;
  readonly curvature: number;
  readonly shearForce: number;
  /** Stretch of the outer face. */
  readonly stretch: number;
  /** Bending and axial stiffness of the top for each metre of edge. */
  readonly D: number;
  readonly EA: number;
}

function edgeState(gauge: PlateGauge, found: NodalStrains, at: number, { nx, ny }: RearEdge): EdgeState {
  const { panel, mesh, regions } = gauge;
  const node = found.node[at];
  const thickness = thicknessAt(panel.thickness, mesh.plan.nodes[2 * node], mesh.plan.nodes[2 * node + 1]);
  const patches = regions.regions[found.region[at]].patches.map((p) => panel.patches[p]);
  const c = laminate(plateLayers(panel, thickness, patches)).stiffness;
  const s = found.strains.subarray(8 * at, 8 * at + 8);
  const q = [nx * nx, ny * ny, nx * ny];
  const strain = [nx * nx, ny * ny, 2 * nx * ny];
  const form = (row: number): number => {
    let sum = 0;
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) sum += strain[i] * c[8 * (row + i) + row + j] * strain[j];
    return sum;
  };
  const curvature = q[0] * s[3] + q[1] * s[4] + q[2] * s[5];
  return {
    angle: Math.atan2(ny, nx),
    thickness,
    curvature,
    shearForce: nx * s[6] + ny * s[7],
    stretch: q[0] * s[0] + q[1] * s[1] + q[2] * s[2] + (thickness / 2) * curvature,
    D: form(3),
    EA: form(0),
  };
}

/** Peel and shear at the very edge for one share of the woods' thickness. */
function jointEdge(
  state: EdgeState,
  bridge: PlateGauge["panel"]["patches"][number],
  { panel }: PlateGauge,
  { film, through }: GlueLineSpec,
  share: number,
): { readonly peel: number; readonly shear: number } {
  const h1 = state.thickness;
  // no deeper into the bridge than as much again as the top is thick
  const h2 = Math.min(bridge.thickness, h1);
  const along = (angle: number, EL: number, ER: number): number =>
    EL * Math.cos(angle) ** 4 +
    ER * Math.sin(angle) ** 4 +
    0.5 * Math.sqrt(EL * ER) * Math.sin(2 * angle) ** 2;
  const E2 = along(state.angle - bridge.grainAngle, bridge.wood.EL, bridge.wood.ER);
  const G = (m: typeof panel.wood, grain: number): number => {
    const c2 = Math.cos(state.angle - grain) ** 2;
    return m.GLT * c2 + m.GRT * (1 - c2);
  };
  const D2 = (E2 * bridge.thickness ** 3) / 12;
  const bed = 1 / (film.thickness / film.E + share * (h1 / through.top + h2 / through.bridge));
  const shearBed =
    1 /
    (film.thickness / film.G +
      share * (h1 / G(panel.wood, panel.grainAngle) + h2 / G(bridge.wood, bridge.grainAngle)));
  return bondEdge({
    ...state,
    bed,
    shearBed,
    D: [state.D, D2],
    EA: [state.EA, E2 * bridge.thickness],
  });
}
