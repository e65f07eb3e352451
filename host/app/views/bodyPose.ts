import type { VoiceView } from "#engine/drawings";
import type { Cut, Pose } from "./bodyScene.ts";
import type { PartKind } from "./solidParts.ts";

/** From where the body is looked at. */
export type Side = "aslant" | "front" | "back" | "side" | "in top" | "in back";
export type Cutting = "whole" | Cut["axis"];

/** In words. */
export const sides: readonly { readonly id: Side; readonly label: string }[] = [
  { id: "aslant", label: "Aslant" },
  { id: "front", label: "Front" },
  { id: "back", label: "Back" },
  { id: "side", label: "Side" },
  { id: "in top", label: "Inside the top" },
  { id: "in back", label: "Inside the back" },
];
export const poses: Readonly<Record<Side, Pose>> = {
  aslant: { yaw: -0.42, pitch: -0.8, zoom: 1.3 },
  front: { yaw: 0, pitch: 0, zoom: 1.3 },
  back: { yaw: 0, pitch: Math.PI, zoom: 1.3 },
  side: { yaw: 0, pitch: -Math.PI / 2, zoom: 1.3 },
  "in top": { yaw: 0.25, pitch: Math.PI + 0.35, zoom: 1.4 },
  "in back": { yaw: -0.25, pitch: -0.35, zoom: 1.4 },
};
const all: readonly PartKind[] = [
  "top",
  "back",
  "sides",
  "bridge",
  "top brace",
  "back brace",
  "neck",
  "board",
];
const taken: Readonly<Partial<Record<Side, readonly PartKind[]>>> = {
  "in top": ["back", "back brace"],
  "in back": ["top", "bridge", "top brace", "neck", "board"],
};
/** What is seen from there: to look inside, what stands before it is taken away. */
export function shownFrom(side: Side): ReadonlySet<PartKind> {
  const gone = taken[side] ?? [];
  return new Set(all.filter((kind) => !gone.includes(kind)));
}

/** Where a key turns the body; null: no key of ours. */
export function keyPose(pose: Pose, pressed: string): Pose | null {
  const step = Math.PI / 18;
  if (pressed === "ArrowLeft") return turned(pose, -step, 0);
  if (pressed === "ArrowRight") return turned(pose, step, 0);
  if (pressed === "ArrowUp") return turned(pose, 0, -step);
  if (pressed === "ArrowDown") return turned(pose, 0, step);
  if (pressed === "+" || pressed === "=") return zoomed(pose, 1.15);
  if (pressed === "-") return zoomed(pose, 1 / 1.15);
  return pressed === "Home" ? poses.aslant : null;
}

export function turned(pose: Pose, yaw: number, pitch: number): Pose {
  return { ...pose, yaw: pose.yaw + yaw, pitch: pose.pitch + pitch };
}

export function zoomed(pose: Pose, by: number): Pose {
  return { ...pose, zoom: Math.min(6, Math.max(0.4, pose.zoom * by)) };
}

/** Where the plane lies, m: across at a share of the length, lengthwise at a share of the breadth. */
export function cutPlace({ plan }: VoiceView, axis: Cut["axis"], share: number): number {
  const values = plan.outline.filter((_, i) => i % 2 === (axis === "across" ? 0 : 1));
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return low + share * (high - low);
}

export function sayCut(view: VoiceView, axis: Cut["axis"], share: number): string {
  const mm = 1000 * cutPlace(view, axis, share);
  return axis === "across"
    ? `${mm.toFixed(0)} mm from the tail`
    : `${Math.abs(mm).toFixed(0)} mm ${mm === 0 ? "off" : mm > 0 === (view.hand === "right") ? "to the bass of" : "to the treble of"} the centreline`;
}

export function sayMoment(moment: number): string {
  if (Math.abs(moment) < 0.025) return "at rest";
  const way = moment > 0 ? "one way" : "the other way";
  return Math.abs(moment) > 0.99 ? `farthest ${way}` : `${Math.round(100 * Math.abs(moment))} % ${way}`;
}

/** Two figures of a factor. */
export function sayFactor(factor: number): string {
  return Number(factor.toPrecision(factor >= 10 ? 2 : 1)).toLocaleString("en");
}
