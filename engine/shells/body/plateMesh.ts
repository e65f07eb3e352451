import { domeHeight, polygonPerimeter } from "#engine/geometry";
import { done, type Outcome } from "#engine/numerics";
import type { Panel } from "../panel.ts";
import { lifted, planOfPanel, type ShellMesh } from "../shellMesh.ts";
import type { BodyShellSpec } from "./bodySpec.ts";
import { seatedPanel, seatLines } from "./plateSeat.ts";

/** Height of a plate's mid-surface in its plate frame (outward positive) at a plan point of the body. */
export type PlateHeight = (x: number, y: number) => number;

/** Thickness that stands for the whole plate: uniform, or the plain mean of the caliper spots. */
export function nominalThickness(panel: Panel): number {
  const t = panel.thickness;
  if (typeof t === "number") return t;
  return t.spots.reduce((sum, [, , v]) => sum + v, 0) / t.spots.length;
}

/** Depth from the top's mid-surface to the back's at the edge: inner faces plus half of both plates. */
export function depthMid(spec: BodyShellSpec, x: number): number {
  const { depthAtTail, depthAtNeck, length } = spec.heights;
  const half = (p: Panel | null): number => (p === null ? 0 : nominalThickness(p) / 2);
  return depthAtTail + ((depthAtNeck - depthAtTail) * x) / length + half(spec.top) + half(spec.back);
}

/** Mean of the dome's height along the plate's outline, by length. */
function edgeMean(panel: Panel): number {
  const p = panel.outline;
  const n = p.length / 2;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const length = Math.hypot(p[2 * j] - p[2 * i], p[2 * j + 1] - p[2 * i + 1]);
    const x = (p[2 * i] + p[2 * j]) / 2;
    const y = (p[2 * i + 1] + p[2 * j + 1]) / 2;
    sum += length * domeHeight(panel.dome, x, y);
  }
  return sum / polygonPerimeter(p);
}

/**
 * Top: z = dome - (mean of dome on the edge). Back: outward height = depthMid(x) + dome - (mean of dome on the edge).
 * Without the plate: the plane or slope its edge would lie in.
 */
export function plateHeight(spec: BodyShellSpec, which: "top" | "back"): PlateHeight {
  const panel = spec[which];
  const mean = panel === null ? 0 : edgeMean(panel);
  const dome = panel?.dome ?? null;
  return which === "top"
    ? (x, y) => domeHeight(dome, x, y) - mean
    : (x, y) => depthMid(spec, x) + domeHeight(dome, x, y) - mean;
}

/** Rise of the plate's own plane per metre along x, in its plate frame: the body's taper, all of it in the back. */
export function plateSlope(spec: BodyShellSpec, which: "top" | "back"): number {
  const { depthAtTail, depthAtNeck, length } = spec.heights;
  return which === "top" ? 0 : (depthAtNeck - depthAtTail) / length;
}

export interface SeatedPlate {
  readonly panel: Panel;
  /** Nodes in the plate frame with heights of `plateHeight`. */
  readonly mesh: ShellMesh;
}

/** One plate of the body cut to its seat, meshed and lifted. Null where the spec has none. Fails as the mesher does, naming the plate. */
export function plateMesh(
  spec: BodyShellSpec,
  which: "top" | "back",
  size: number,
): Outcome<SeatedPlate | null> {
  const seated = seatedPanel(spec, which);
  if (!seated.ok) return seated;
  const panel = seated.value;
  if (panel === null) return done(null);
  const made = planOfPanel(panel, size, seatLines(spec, which, panel, size));
  if (!made.ok) return { ...made, detail: `${which}: ${made.detail}` };
  const mesh = lifted(made.value, panel, plateHeight(spec, which));
  return done({ panel, mesh }, made.warnings);
}
