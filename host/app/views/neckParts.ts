import type { BoardView } from "#engine/drawings";
import type { Point } from "#engine/geometry";
import type { InstrumentSketch } from "#engine/pipeline";
import type { SolidPart } from "./solidParts.ts";

type Neck = InstrumentSketch["neck"];

/** Corners of the board in plan: nut and end on the bass side, end and nut on the treble side. */
function corners({ bassEdge, trebleEdge }: BoardView): readonly [Point, Point, Point, Point] {
  return [bassEdge[0], bassEdge[1], trebleEdge[1], trebleEdge[0]];
}

/** z of the board's upper face at x. */
function boardHeight({ boardFrom, boardTo }: Neck, x: number): number {
  return boardFrom[1] + ((boardTo[1] - boardFrom[1]) * (x - boardFrom[0])) / (boardTo[0] - boardFrom[0] || 1);
}

/** The fingerboard with its slots in ink. */
export function boardPart(board: BoardView, neck: Neck): SolidPart {
  const four = corners(board);
  const slots = board.slots.flatMap(({ bass, treble }) => [bass, treble]);
  const at = ([x, y]: Point, down: number) => [x, y, boardHeight(neck, x) - down];
  const positions = Float32Array.from([
    ...four.flatMap((p) => at(p, 0)),
    ...four.flatMap((p) => at(p, neck.boardThickness)),
    ...slots.flatMap((p) => at(p, -0.0004)),
  ]);
  return {
    ...still("board", positions),
    triangles: Uint32Array.from([0, 1, 2, 0, 2, 3, ...walls(0, 4, 4), 4, 6, 5, 4, 7, 6]),
    lines: Uint32Array.from([
      ...ring(0, 4),
      ...ring(4, 4),
      ...Array.from({ length: slots.length }, (_, i) => 8 + i),
    ]),
  };
}

/** Points of the shaft's half round. */
const roundPoints = 9;

/** The neck's shaft under the board, from the body to the nut, rounded underneath. */
export function shaftPart(board: BoardView, neck: Neck, bodyLength: number): SolidPart {
  const [nutBass, endBass, endTreble, nutTreble] = corners(board);
  const edgeAt = (nut: Point, end: Point, x: number) =>
    nut[1] + ((end[1] - nut[1]) * (x - nut[0])) / (end[0] - nut[0] || 1);
  const nutX = Math.min(nutBass[0], nutTreble[0]);
  const stations = neck.depths.filter(({ x }) => x >= bodyLength - 1e-6 && x <= nutX + 1e-6);
  const positions: number[] = [];
  for (const { x, depth } of stations) {
    const [bass, treble] = [edgeAt(nutBass, endBass, x), edgeAt(nutTreble, endTreble, x)];
    const under = boardHeight(neck, x) - neck.boardThickness;
    const wood = Math.max(0.004, depth - neck.boardThickness);
    for (let k = 0; k < roundPoints; k++) {
      const turn = (Math.PI * k) / (roundPoints - 1);
      positions.push(
        x,
        (bass + treble) / 2 + ((bass - treble) / 2) * Math.cos(turn),
        under - wood * Math.sin(turn),
      );
    }
  }
  const triangles: number[] = [];
  const lines: number[] = [];
  for (let i = 0; i + 1 < stations.length; i++) {
    const a = i * roundPoints;
    for (let k = 0; k + 1 < roundPoints; k++)
      triangles.push(
        a + k,
        a + k + 1,
        a + k + roundPoints,
        a + k + 1,
        a + k + 1 + roundPoints,
        a + k + roundPoints,
      );
    lines.push(a, a + roundPoints, a + roundPoints - 1, a + 2 * roundPoints - 1);
  }
  for (const first of [0, (stations.length - 1) * roundPoints])
    for (let k = 0; k + 1 < roundPoints && stations.length > 0; k++) lines.push(first + k, first + k + 1);
  return {
    ...still("neck", Float32Array.from(positions)),
    triangles: Uint32Array.from(triangles),
    lines: Uint32Array.from(lines),
  };
}

/** The head: a plain slab from the nut, tilted back. */
export function headPart(board: BoardView, neck: Neck): SolidPart {
  const [nutBass, , , nutTreble] = corners(board);
  const { angle, length, thickness } = neck.head;
  const z = boardHeight(neck, nutBass[0]) - neck.boardThickness;
  const wider = 1.25;
  const out = (p: Point): Point => [
    Math.max(nutBass[0], nutTreble[0]) + length * Math.cos(angle),
    wider * p[1],
  ];
  const plan = [nutBass, out(nutBass), out(nutTreble), nutTreble];
  const drop = length * Math.sin(angle);
  const heights = [0, drop, drop, 0];
  const positions = Float32Array.from(
    [0, thickness].flatMap((down) => plan.flatMap(([x, y], i) => [x, y, z - heights[i]! - down])),
  );
  return {
    ...still("neck", positions),
    triangles: Uint32Array.from([0, 1, 2, 0, 2, 3, ...walls(0, 4, 4), 4, 6, 5, 4, 7, 6]),
    lines: Uint32Array.from([...ring(0, 4), ...ring(4, 4), 0, 4, 1, 5, 2, 6, 3, 7]),
  };
}

function still(kind: SolidPart["kind"], positions: Float32Array) {
  return { kind, positions, top: null, back: null };
}

function ring(first: number, count: number): readonly number[] {
  return Array.from({ length: count }, (_, i) => [first + i, first + ((i + 1) % count)]).flat();
}

/** Upright faces between two rings of vertices. */
function walls(first: number, count: number, apart: number): readonly number[] {
  return Array.from({ length: count }, (_, i) => {
    const [a, b] = [first + i, first + ((i + 1) % count)];
    return [a, a + apart, b, b, a + apart, b + apart];
  }).flat();
}
