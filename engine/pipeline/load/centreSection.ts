import type { Build } from "#engine/instrument";
import { planLocator } from "#engine/meshing";
import type { BodySystem } from "#engine/shells";
import type { InstrumentGeometry } from "../geometry.ts";
import { boardLine } from "../structure/neckBeam.ts";

/** The guitar cut along its centreline, at rest and moved: chains x0, z0, x1, z1, ... and the shifts of their points, m. */
export interface CentreSection {
  readonly lines: readonly SectionLine[];
  readonly string: Omit<SectionLine, "part">;
}

interface SectionLine {
  readonly part: "top" | "back" | "tail" | "shoulder" | "board" | "head" | "bridge";
  readonly rest: Float64Array;
  readonly shift: Float64Array;
}

type Triple = readonly [number, number, number];
type Moved = { readonly at: readonly [x: number, z: number]; readonly by: readonly [dx: number, dz: number] };

const stations = 120;

/**
 * Where `motion` (all motions of the layout) takes the plates, tail, shoulder, fingerboard, head, bridge and middle string on
 * the centreline. A hole on it leaves a gap. The head is stiff; the bridge turns with `bridgeRotation` (rad, about +y) about the
 * middle of its foot.
 */
export function centreSection(
  build: Build,
  geometry: InstrumentGeometry,
  system: Pick<BodySystem, "mesh" | "layout">,
  motion: Float64Array,
  bridgeRotation: number,
): CentreSection {
  const { mesh, layout } = system;
  const nodeMoved = (node: number): Moved => ({
    at: [layout.places[3 * node]!, layout.places[3 * node + 2]!],
    by: [motion[6 * node]!, motion[6 * node + 2]!],
  });
  const plates = (["top", "back"] as const).flatMap((part) => {
    const plate = mesh[part];
    const nodeOf = part === "top" ? mesh.topNode : mesh.backNode;
    if (plate === null) return [];
    const locate = planLocator(plate.plan);
    const chains: Moved[][] = [[]];
    for (let k = 0; k <= stations; k++) {
      const found = locate((geometry.plan.length * k) / stations, 0);
      const last = chains[chains.length - 1]!;
      if (found === null) {
        if (last.length > 0) chains.push([]);
        continue;
      }
      const corners = [0, 1, 2].map((c) => nodeMoved(nodeOf[plate.plan.triangles[3 * found.triangle + c]!]!));
      const mean = (pick: (m: Moved) => number): number =>
        corners.reduce((sum, m, c) => sum + found.barycentric[c]! * pick(m), 0);
      last.push({
        at: [mean((m) => m.at[0]), mean((m) => m.at[1])],
        by: [mean((m) => m.by[0]), mean((m) => m.by[1])],
      });
    }
    return chains.filter((c) => c.length > 1).map((c) => lineOf(part, c));
  });
  return {
    lines: [
      ...plates,
      ...rims(system).map(([part, nodes]) => lineOf(part, nodes.map(nodeMoved))),
      ...neck(build, geometry, system, motion),
      bridge(build, plates, bridgeRotation),
    ],
    string: middleString(build, geometry, system, motion, plates, bridgeRotation),
  };
}

/** The nodes of the side nearest the centreline at either end of the body, from the top's edge to the back's. */
function rims({
  mesh,
  layout,
}: Pick<BodySystem, "mesh" | "layout">): readonly (readonly ["tail" | "shoulder", readonly number[]])[] {
  if (mesh.sideRings.length === 0) return [];
  const pick = (ring: Uint32Array, way: 1 | -1): number =>
    ring.reduce((a, b) => (cost(layout.places, b, way) < cost(layout.places, a, way) ? b : a));
  return [
    ["tail", mesh.sideRings.map((ring) => pick(ring, 1))],
    ["shoulder", mesh.sideRings.map((ring) => pick(ring, -1))],
  ];
}

/** Least where the node lies furthest to the end asked for and nearest the centreline. */
function cost(places: Float64Array, node: number, way: 1 | -1): number {
  return way * places[3 * node]! + 2 * Math.abs(places[3 * node + 1]!);
}

function neck(
  build: Build,
  geometry: InstrumentGeometry,
  { layout }: Pick<BodySystem, "layout">,
  motion: Float64Array,
): SectionLine[] {
  const { from, to } = boardLine(build, geometry);
  const slope = (to[2] - from[2]) / (to[0] - from[0]);
  const surface = (node: number): Moved => {
    const x = layout.places[3 * node]!;
    return carried(motion, node, layout.places, [x, 0, from[2] + slope * (x - from[0])]);
  };
  const beam = [...layout.neckNode].sort((a, b) => layout.places[3 * a]! - layout.places[3 * b]!);
  const tongue = [...layout.tongueNode].sort((a, b) => layout.places[3 * a]! - layout.places[3 * b]!);
  const nut = beam[beam.length - 1];
  if (nut === undefined) return [];
  const { head } = build.neck;
  const end: Triple = [
    to[0] + head.length * Math.cos(head.angle),
    0,
    to[2] + head.length * (slope * Math.cos(head.angle) - Math.sin(head.angle)),
  ];
  return [
    lineOf("board", [...tongue, ...beam].map(surface)),
    lineOf("head", [carried(motion, nut, layout.places, to), carried(motion, nut, layout.places, end)]),
  ];
}

/** A place that goes stiffly with a node: u + theta x r. */
function carried(motion: Float64Array, node: number, places: Float64Array, [x, , z]: Triple): Moved {
  const [ux, uz, turn] = [motion[6 * node]!, motion[6 * node + 2]!, motion[6 * node + 4]!];
  const [rx, rz] = [x - places[3 * node]!, z - places[3 * node + 2]!];
  return { at: [x, z], by: [ux + turn * rz, uz - turn * rx] };
}

/** The bridge's side, on the top's surface at the middle of its foot. */
function bridge(build: Build, plates: readonly SectionLine[], rotation: number): SectionLine {
  const { polygon, thickness } = build.bridge;
  const cut = crossed(polygon);
  const foot = onTop(plates, (cut[0] + cut[1]) / 2);
  const raised = foot.at[1] + build.top.meanThickness / 2;
  const corners: Triple[] = [
    [cut[0], 0, raised],
    [cut[0], 0, raised + thickness],
    [cut[1], 0, raised + thickness],
    [cut[1], 0, raised],
  ];
  return lineOf(
    "bridge",
    corners.map(([x, , z]) => turned(foot, rotation, x, z)),
  );
}

function middleString(
  build: Build,
  geometry: InstrumentGeometry,
  { layout }: Pick<BodySystem, "layout">,
  motion: Float64Array,
  plates: readonly SectionLine[],
  rotation: number,
): CentreSection["string"] {
  const [a, b] = build.bridge.saddleLine;
  const cut = crossed(build.bridge.polygon);
  const foot = onTop(plates, (cut[0] + cut[1]) / 2);
  const x = (a[0] + b[0]) / 2;
  const crown = turned(foot, rotation, x, onTop(plates, x).at[1] + build.saddle.crownHeight);
  const { to } = boardLine(build, geometry);
  const beam = [...layout.neckNode];
  const last = beam.reduce((p, q) => (layout.places[3 * q]! > layout.places[3 * p]! ? q : p));
  const nut = carried(motion, last, layout.places, [to[0], 0, to[2] + build.neck.fretHeight]);
  const { rest, shift } = lineOf("board", [crown, nut]);
  return { rest, shift };
}

function turned(foot: Moved, rotation: number, x: number, z: number): Moved {
  return {
    at: [x, z],
    by: [foot.by[0] + rotation * (z - foot.at[1]), foot.by[1] - rotation * (x - foot.at[0])],
  };
}

/** Least and greatest station at which a polygon crosses the centreline. */
function crossed(polygon: Float64Array): readonly [number, number] {
  const xs: number[] = [];
  const count = polygon.length / 2;
  for (let i = 0; i < count; i++) {
    const j = (i + 1) % count;
    const [y1, y2] = [polygon[2 * i + 1]!, polygon[2 * j + 1]!];
    if (y1 > 0 === y2 > 0) continue;
    const t = y1 / (y1 - y2);
    xs.push(polygon[2 * i]! + t * (polygon[2 * j]! - polygon[2 * i]!));
  }
  return [Math.min(...xs), Math.max(...xs)];
}

/** The point of the top's section nearest a station. */
function onTop(plates: readonly SectionLine[], x: number): Moved {
  let best: Moved = { at: [x, 0], by: [0, 0] };
  let gap = Number.POSITIVE_INFINITY;
  for (const { part, rest, shift } of plates) {
    if (part !== "top") continue;
    for (let i = 0; i < rest.length; i += 2) {
      if (Math.abs(rest[i]! - x) >= gap) continue;
      gap = Math.abs(rest[i]! - x);
      best = { at: [rest[i]!, rest[i + 1]!], by: [shift[i]!, shift[i + 1]!] };
    }
  }
  return best;
}

function lineOf(part: SectionLine["part"], points: readonly Moved[]): SectionLine {
  return {
    part,
    rest: Float64Array.from(points.flatMap(({ at }) => at)),
    shift: Float64Array.from(points.flatMap(({ by }) => by)),
  };
}
