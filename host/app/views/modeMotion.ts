import type { ModeView, PlateMesh, VoiceView } from "#engine/drawings";
import type { LiveShapes } from "../desk/deskTypes.ts";
import { carried, carriersOf, plateFinder } from "./carriers.ts";

/** A mode's motion over both plates, outward positive, the larger of the two peaks at 1; the top's larger swing is outward. */
export interface ModeMotion {
  readonly top: Float32Array;
  readonly back: Float32Array;
}

/** Motion of one mode, of the edit under the hand where its shapes are known. null: the mode carries no shape or does not move. */
export function modeMotion(view: VoiceView, shapes: LiveShapes | null, index: number): ModeMotion | null {
  const mode = view.modes[index];
  const [topCount, backCount] = [view.plates.top.nodes.length / 2, view.plates.back.nodes.length / 2];
  const live = shapes !== null && index < shapes.count;
  const top = live ? shapes.top.slice(index * topCount, (index + 1) * topCount) : (mode?.topMotion ?? null);
  const back = live
    ? shapes.back.slice(index * backCount, (index + 1) * backCount)
    : (mode?.backMotion ?? null);
  if (top === null || back === null) return null;
  const [mostTop, mostBack] = [extreme(top), extreme(back)];
  const largest = Math.max(Math.abs(mostTop), Math.abs(mostBack));
  if (!(largest > 0)) return null;
  const scale = (Math.sign(mostTop) || 1) / largest;
  return {
    top: Float32Array.from(top, (w) => scale * w),
    back: Float32Array.from(back, (w) => scale * w),
  };
}

/**
 * How far a steady force of 1 N at the saddle, at the mode's frequency, moves the place that moves most, m: the computed speed
 * there over the angular frequency, times that place's motion over the saddle's. null where the saddle hardly takes part (under
 * 2 % of the largest motion) or the response does not reach.
 */
export function motionFor1N(view: VoiceView, index: number): number | null {
  const mode = view.modes[index];
  const motion = modeMotion(view, null, index);
  if (mode === undefined || motion === null) return null;
  const { frequency, mobility } = view.response;
  const at = frequency.findIndex((f) => f >= mode.frequencyHz);
  if (at < 1 || mode.frequencyHz > view.modesToHz) return null;
  const speed = Math.max(mobility[at - 1]!, mobility[at]!);
  const [[ax, ay], [bx, by]] = view.plan.saddle;
  const [saddle] = carried(
    carriersOf(plateFinder(view.plates.top), [(ax + bx) / 2, (ay + by) / 2]),
    motion.top,
  );
  const share = Math.abs(saddle ?? 0);
  return share < 0.02 ? null : speed / (2 * Math.PI * mode.frequencyHz) / share;
}

const along = ["lower bout", "waist", "upper bout"] as const;
const across = ["bass side", "middle", "treble side"] as const;
const mostTold = 3;
/** Places that move at least this share of the mode's largest motion are told; a plate below the other share hardly moves. */
const leastTold = 0.25;
const leastMoving = 0.08;

/** What a mode moves, in words: each plate's places that move most, and which way at the instant when the top swings out. */
export function sayMode(view: VoiceView, mode: ModeView, motion: ModeMotion): string {
  const { outline } = view.plan;
  const xs = outline.filter((_, i) => i % 2 === 0);
  const length = Math.max(...xs);
  const plates = [
    sayPlate("top", view.plates.top, motion.top, length, view.hand),
    sayPlate("back", view.plates.back, motion.back, length, view.hand),
  ];
  const name = mode.name === null ? "" : `, ${mode.name}`;
  return `${mode.frequencyHz.toFixed(0)} Hz${name}. ${plates.join(" ")}`;
}

function sayPlate(
  name: string,
  mesh: PlateMesh,
  motion: Float32Array,
  length: number,
  hand: "right" | "left",
): string {
  const used = [...new Set(mesh.triangles)];
  const halfWidth = used.reduce((most, n) => Math.max(most, Math.abs(mesh.nodes[2 * n + 1]!)), 0);
  const peaks = new Map<string, number>();
  for (const n of used) {
    const [x, y] = [mesh.nodes[2 * n]! / length, mesh.nodes[2 * n + 1]! / halfWidth];
    const toBass = hand === "right" ? y : -y;
    const place = `the ${across[toBass > 0.25 ? 0 : toBass > -0.25 ? 1 : 2]} of the ${along[x < 0.42 ? 0 : x < 0.64 ? 1 : 2]}`;
    const before = peaks.get(place) ?? 0;
    if (Math.abs(motion[n]!) > Math.abs(before)) peaks.set(place, motion[n]!);
  }
  const ranked = [...peaks].sort((a, b) => Math.abs(b[1]) - Math.abs(a[1]));
  const told = ranked
    .filter(([, w], i) => Math.abs(w) >= (i === 0 ? leastMoving : leastTold))
    .slice(0, mostTold)
    .map(([place, w]) => `${Math.round(100 * Math.abs(w))}\u00a0% ${w > 0 ? "out" : "in"} at ${place}`);
  return told.length === 0 ? `The ${name} hardly moves.` : `The ${name} moves ${told.join(", ")}.`;
}

function extreme(values: ArrayLike<number>): number {
  let most = 0;
  for (let i = 0; i < values.length; i++) if (Math.abs(values[i]!) > Math.abs(most)) most = values[i]!;
  return most;
}
