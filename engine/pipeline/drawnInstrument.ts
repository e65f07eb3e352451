import type { BoardView, BraceView, PlanView, PlateMesh } from "#engine/drawings";
import { mirrorBoard, mirrorPolygon, type Point, type Polygon } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import type { ShellMesh } from "#engine/shells";
import type { InstrumentGeometry } from "./geometry.ts";

/** Plan and board as sheets draw them; a left-handed instrument is mirrored here, once. */
export function drawnPlan(build: Build, { plan }: InstrumentGeometry): PlanView {
  const turn = handTurn(build);
  const turnPoint = ([x, y]: Point): Point => (build.body.hand === "left" ? [x, -y] : [x, y]);
  return {
    outline: turn(plan.outlinePolygon),
    hole: turn(plan.holePolygon),
    openEdge: plan.openEdge.map(turn),
    braces: (["top", "back"] as const).flatMap((plate) =>
      build[plate].braces.map(
        (brace): BraceView => ({
          name: brace.name,
          plate,
          path: turn(brace.path),
          width: brace.width,
          height: Math.max(...brace.heights.map(([, h]) => h)),
        }),
      ),
    ),
    bridge: turn(build.bridge.polygon),
    patches: build.top.patches.map(({ polygon }) => turn(polygon)),
    bridgePlate: build.bridgePlate === null ? null : turn(build.bridgePlate.polygon),
    saddle: [turnPoint(build.bridge.saddleLine[0]), turnPoint(build.bridge.saddleLine[1])],
  };
}

export function drawnBoard(build: Build, { board }: InstrumentGeometry): BoardView {
  return build.body.hand === "left" ? mirrorBoard(board) : board;
}

/** A plate's mesh in plan, node by node as it was solved, its triangles anticlockwise also where it is mirrored; empty without one. */
export function drawnMesh(build: Build, mesh: Pick<ShellMesh, "nodes" | "triangles"> | null): PlateMesh {
  if (mesh === null) return { nodes: new Float64Array(0), triangles: new Uint32Array(0) };
  const left = build.body.hand === "left";
  const { nodes, triangles } = mesh;
  const flat = new Float64Array((nodes.length / 3) * 2);
  for (let i = 0; i < flat.length / 2; i++) {
    flat[2 * i] = nodes[3 * i]!;
    flat[2 * i + 1] = left ? -nodes[3 * i + 1]! : nodes[3 * i + 1]!;
  }
  if (!left) return { nodes: flat, triangles };
  const turned = triangles.map((_, i) => triangles[i % 3 === 0 ? i : i % 3 === 1 ? i + 1 : i - 1]!);
  return { nodes: flat, triangles: turned };
}

/** Mirrors a polygon of the plan for a left-handed instrument (its points in reverse, so that it stays anticlockwise), else leaves it as it is. */
export function handTurn(build: Build): (polygon: Polygon) => Polygon {
  return build.body.hand === "left" ? mirrorPolygon : (polygon) => polygon;
}

/** "D2 G2 C3 F3 A3 D4, 672 to 652 mm scales". */
export function subtitle(build: Build): string {
  const tuning = [...build.strings]
    .reverse()
    .map(({ note }) => note)
    .join(" ");
  const [bass, treble] = [build.board.bassScale, build.board.trebleScale].map((s) => (s * 1000).toFixed(0));
  const scales = bass === treble ? `${bass} mm scale` : `${bass} to ${treble} mm scales`;
  return `${tuning}, ${scales}`;
}
