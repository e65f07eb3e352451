/** Outline, board and plates of a guitar made up for the tests of this module: plausible, never built. */
import { type BoardLayout, boardLayout, type Point } from "#engine/geometry";
import { opened } from "#engine/numerics";
import type { BoardView, PlateMesh, VoiceView } from "./voiceView.ts";

export const bodyLength = 0.498;
const widths: readonly (readonly [number, number])[] = [
  [0, 0],
  [0.012, 0.075],
  [0.04, 0.135],
  [0.09, 0.182],
  [0.15, 0.198],
  [0.21, 0.188],
  [0.27, 0.15],
  [0.315, 0.131],
  [0.36, 0.135],
  [0.41, 0.146],
  [0.45, 0.138],
  [0.48, 0.1],
  [0.492, 0.06],
  [bodyLength, 0],
];

export function halfWidth(x: number): number {
  const last = widths.length - 1;
  const at = (k: number) => widths[Math.max(0, Math.min(last, k))];
  const next = widths.findIndex(([s]) => s > x);
  const i = next < 0 ? last - 1 : next - 1;
  const [x1, y1] = at(i);
  const [x2, y2] = at(i + 1);
  const h = x2 - x1;
  const t = Math.min(1, Math.max(0, (x - x1) / h));
  if (i === 0) return y2 * Math.sqrt(t);
  if (i === last - 1) return y1 * Math.sqrt(1 - t);
  const slope = (k: number) =>
    k === 1 ? 1.7 : k === last - 1 ? -5 : (at(k + 1)[1] - at(k - 1)[1]) / (at(k + 1)[0] - at(k - 1)[0]);
  return (
    y1 * (1 + 2 * t) * (1 - t) ** 2 +
    h * slope(i) * t * (1 - t) ** 2 +
    y2 * t * t * (3 - 2 * t) +
    h * slope(i + 1) * t * t * (t - 1)
  );
}

/** Round ends: the station runs as a cosine so that points crowd where the edge turns. */
function outline(): Float64Array {
  const n = 90;
  const points: number[] = [];
  const station = (k: number) => (bodyLength * (1 - Math.cos((Math.PI * k) / n))) / 2;
  for (let k = 0; k < n; k++) points.push(station(k), -halfWidth(station(k)));
  for (let k = n; k > 0; k--) points.push(station(k), halfWidth(station(k)));
  return Float64Array.from(points);
}

function ring(cx: number, cy: number, a: number, b: number, turn: number): Float64Array {
  const out = new Float64Array(120);
  for (let i = 0; i < 60; i++) {
    const t = (2 * Math.PI * i) / 60;
    out[2 * i] = cx + a * Math.cos(t) * Math.cos(turn) - b * Math.sin(t) * Math.sin(turn);
    out[2 * i + 1] = cy + a * Math.cos(t) * Math.sin(turn) + b * Math.sin(t) * Math.cos(turn);
  }
  return out;
}

export function mesh(withHole: boolean): PlateMesh {
  const [nx, ny] = [64, 40];
  const nodes: number[] = [];
  for (let i = 0; i <= nx; i++) {
    const x = (bodyLength * (1 - Math.cos(Math.PI * (0.02 + (0.96 * i) / nx)))) / 2;
    for (let j = 0; j <= ny; j++) nodes.push(x, halfWidth(x) * ((2 * j) / ny - 1));
  }
  const triangles: number[] = [];
  const open = (a: number, b: number, c: number) => {
    const x = (nodes[2 * a] + nodes[2 * b] + nodes[2 * c]) / 3;
    const y = (nodes[2 * a + 1] + nodes[2 * b + 1] + nodes[2 * c + 1]) / 3;
    return ((x - 0.41) / 0.06) ** 2 + ((y - 0.085) / 0.036) ** 2 < 1;
  };
  for (let i = 0; i < nx; i++) {
    for (let j = 0; j < ny; j++) {
      const a = i * (ny + 1) + j;
      const faces = [
        [a, a + ny + 1, a + ny + 2],
        [a, a + ny + 2, a + 1],
      ];
      for (const [p, q, r] of faces) if (!withHole || !open(p, q, r)) triangles.push(p, q, r);
    }
  }
  return { nodes: Float64Array.from(nodes), triangles: Uint32Array.from(triangles) };
}

const bridgeAt = 0.172;

export function placedBoard(mirrored = false): BoardView {
  const layout: BoardLayout = opened(
    boardLayout({
      strings: 6,
      bassScale: 0.672,
      trebleScale: 0.652,
      squareFret: 7,
      frets: 20,
      nutWidth: 0.0445,
      endWidth: 0.057,
      endStation: 0.462,
      stringSpreadNut: 0.0378,
      stringSpreadSaddle: 0.056,
    }),
  );
  const shift = bridgeAt + layout.strings[2].saddle[0];
  const put = ([x, y]: Point): Point => [shift - x, mirrored ? -y : y];
  return {
    strings: layout.strings.map((s) => ({ ...s, nut: put(s.nut), saddle: put(s.saddle) })),
    slots: layout.slots.map((s) => ({ ...s, bass: put(s.bass), treble: put(s.treble) })),
    nutLine: { ...layout.nutLine, bass: put(layout.nutLine.bass), treble: put(layout.nutLine.treble) },
    bassEdge: [put(layout.bassEdge[0]), put(layout.bassEdge[1])],
    trebleEdge: [put(layout.trebleEdge[0]), put(layout.trebleEdge[1])],
  };
}

const bar = (
  name: string,
  plate: "top" | "back",
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  width = 0.0075,
  height = 0.014,
) => ({
  name,
  plate,
  path: Float64Array.of(x1, y1, x2, y2),
  width,
  height,
});

/** Outline, hole, braces, bridge and saddle as they are drawn. */
export function drawnPlan(): VoiceView["plan"] {
  return {
    outline: outline(),
    hole: ring(0.41, 0.085, 0.06, 0.036, 0.1),
    openEdge: [],
    braces: [
      bar("radial 1", "top", 0.19, 0.03, 0.36, 0.115),
      bar("radial 2", "top", 0.17, 0.045, 0.2, 0.185),
      bar("radial 3", "top", 0.15, 0.035, 0.035, 0.12),
      bar("radial 4", "top", 0.14, 0, 0.012, 0),
      bar("radial 5", "top", 0.15, -0.035, 0.035, -0.12),
      bar("radial 6", "top", 0.17, -0.045, 0.2, -0.185),
      bar("radial 7", "top", 0.19, -0.03, 0.4, -0.13),
      bar("shoulder bar", "top", 0.462, 0.09, 0.455, -0.13, 0.011, 0.016),
      bar("back 1", "back", 0.1, -0.185, 0.1, 0.185, 0.008, 0.012),
      bar("back 2", "back", 0.24, -0.17, 0.24, 0.17, 0.008, 0.012),
      bar("back 3", "back", 0.38, -0.138, 0.38, 0.138, 0.007, 0.013),
    ],
    bridge: Float64Array.of(0.155, -0.08, 0.185, -0.08, 0.187, 0, 0.19, 0.08, 0.15, 0.08, 0.152, 0),
    patches: [],
    bridgePlate: Float64Array.of(0.14, -0.075, 0.185, -0.075, 0.185, 0.075, 0.14, 0.075),
    saddle: [placedBoard().strings[5].saddle, placedBoard().strings[0].saddle],
  };
}
