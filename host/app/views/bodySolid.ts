import type { PlateMesh, VoiceView } from "#engine/drawings";
import { domeHeight } from "#engine/geometry";
import type { InstrumentSketch } from "#engine/pipeline";
import { bracePart } from "./bracePart.ts";
import { type Carriers, carriedInRows, carriersOf, type PlateFinder, plateFinder } from "./carriers.ts";
import { boardPart, headPart, shaftPart } from "./neckParts.ts";
import type { BoxHeights, SolidPart } from "./solidParts.ts";

/** Mid-surface of top and back at a place of the drawn plan, z of the body frame. */
export function boxHeights(sketch: InstrumentSketch): BoxHeights {
  const turn = sketch.hand === "left" ? -1 : 1;
  const { top, back, sides, length } = sketch;
  const walls = (top.meanThickness + back.meanThickness) / 2;
  const { depthAtTail, depthAtNeck } = sides.rim;
  return {
    turn,
    topThickness: top.meanThickness,
    backThickness: back.meanThickness,
    top: (x, y) => domeHeight(top.dome, x, turn * y) - top.edgeHeight,
    back: (x, y) =>
      -(depthAtTail + ((depthAtNeck - depthAtTail) * x) / length + walls) -
      (domeHeight(back.dome, x, turn * y) - back.edgeHeight),
  };
}

/** The whole guitar in parts, as the 3-D view draws it. */
export function bodySolid(view: VoiceView, sketch: InstrumentSketch): readonly SolidPart[] {
  const heights = boxHeights(sketch);
  const { plates, board } = view;
  const [top, back] = [plateFinder(plates.top), plateFinder(plates.back)];
  return [
    platePart("top", plates.top, top, heights.top),
    platePart("back", plates.back, back, heights.back),
    sidesPart(view, heights, top, back),
    ...bridgeParts(view.hand, sketch, heights, top),
    ...sketch.top.braces.flatMap((brace) => bracePart(brace, top, heights)),
    ...sketch.back.braces.flatMap((brace) => bracePart(brace, back, heights)),
    boardPart(board, sketch.neck),
    shaftPart(board, sketch.neck, sketch.length),
    headPart(board, sketch.neck),
  ];
}

function platePart(
  kind: "top" | "back",
  mesh: PlateMesh,
  finder: PlateFinder,
  height: (x: number, y: number) => number,
): SolidPart {
  const count = mesh.nodes.length / 2;
  const positions = new Float32Array(3 * count);
  for (let n = 0; n < count; n++) {
    const [x, y] = [mesh.nodes[2 * n]!, mesh.nodes[2 * n + 1]!];
    positions.set([x, y, height(x, y)], 3 * n);
  }
  const own: Carriers = {
    nodes: Uint32Array.from({ length: 3 * count }, (_, i) => Math.floor(i / 3)),
    weights: Float32Array.from({ length: 3 * count }, (_, i) => (i % 3 === 0 ? 1 : 0)),
  };
  return {
    kind,
    positions,
    triangles: Uint32Array.from(mesh.triangles),
    lines: finder.rim,
    top: kind === "top" ? own : null,
    back: kind === "back" ? own : null,
  };
}

/** Rows of the side between the two plates. */
const sideRows = 5;

/** The side, upright along the body's edge. Its own motion is not known here: it is carried by the plates' edges. */
function sidesPart(
  { plan }: VoiceView,
  heights: BoxHeights,
  topFinder: PlateFinder,
  backFinder: PlateFinder,
): SolidPart {
  const { outline } = plan;
  const around = outline.length / 2;
  const total = around * sideRows;
  const positions = new Float32Array(3 * total);
  for (let row = 0; row < sideRows; row++)
    for (let i = 0; i < around; i++) {
      const [x, y, down] = [outline[2 * i]!, outline[2 * i + 1]!, row / (sideRows - 1)];
      const at = row * around + i;
      positions.set([x, y, (1 - down) * heights.top(x, y) + down * heights.back(x, y)], 3 * at);
    }
  const triangles: number[] = [];
  for (let row = 0; row + 1 < sideRows; row++)
    for (let i = 0; i < around; i++) {
      const [a, b] = [row * around + i, row * around + ((i + 1) % around)];
      triangles.push(a, a + around, b, b, a + around, b + around);
    }
  const down = Array.from({ length: sideRows }, (_, row) => row / (sideRows - 1));
  return {
    kind: "sides",
    positions,
    triangles: Uint32Array.from(triangles),
    lines: Uint32Array.from(
      [0, sideRows - 1].flatMap((row) =>
        Array.from({ length: around }, (_, i) => [
          row * around + i,
          row * around + ((i + 1) % around),
        ]).flat(),
      ),
    ),
    top: carriedInRows(
      carriersOf(topFinder, outline),
      down.map((share) => 1 - share),
    ),
    back: carriedInRows(carriersOf(backFinder, outline), down),
  };
}

function bridgeParts(
  hand: "right" | "left",
  { bridge }: InstrumentSketch,
  heights: BoxHeights,
  finder: PlateFinder,
): readonly SolidPart[] {
  const parts = bridge.parts.length > 0 ? bridge.parts : [bridge];
  return parts.map(({ polygon, thickness }) => {
    const turned = hand === "left" ? polygon.map((v, i) => (i % 2 === 1 ? -v : v)) : polygon;
    const n = turned.length / 2;
    const rings = [0, thickness];
    const flat = Float64Array.from([...turned, ...turned]);
    const positions = Float32Array.from(
      rings.flatMap((up) =>
        Array.from({ length: n }, (_, i) => {
          const [x, y] = [turned[2 * i]!, turned[2 * i + 1]!];
          return [x, y, heights.top(x, y) + heights.topThickness / 2 + up];
        }).flat(),
      ),
    );
    const ring = (k: number) => Array.from({ length: n }, (_, i) => [k * n + i, k * n + ((i + 1) % n)]);
    return {
      kind: "bridge" as const,
      positions,
      triangles: Uint32Array.from([
        ...ring(0).flatMap(([a, b]) => [a!, b!, a! + n, b!, b! + n, a! + n]),
        // the bridge is all but convex: a fan covers it
        ...Array.from({ length: n - 2 }, (_, i) => [n, n + i + 1, n + i + 2]).flat(),
      ]),
      lines: Uint32Array.from([...ring(0), ...ring(1)].flat()),
      top: carriersOf(finder, flat),
      back: null,
    };
  });
}
