import { useEffect, useMemo, useRef, useState } from "react";
import { modeSheet } from "#engine/drawings";
import { Button, Figure, Segments, Slider, Tick } from "../kit/index.ts";
import type { BodyScene, Cut, Pose } from "./bodyScene.ts";
import { bodySolid, type PartKind } from "./bodySolid.ts";
import { modeMotion, motionFor1N, sayMode } from "./modeMotion.ts";
import { useBodyScene } from "./useBodyScene.ts";
import { useWidth } from "./useWidth.ts";
import type { BodyViewProps } from "./viewTypes.ts";
import "./body.css";

type Side = "aslant" | "front" | "back" | "side" | "in top" | "in back";
type Cutting = "whole" | Cut["axis"];

const sides: readonly { readonly id: Side; readonly label: string }[] = [
  { id: "aslant", label: "Aslant" },
  { id: "front", label: "Front" },
  { id: "back", label: "Back" },
  { id: "side", label: "Side" },
  { id: "in top", label: "Inside the top" },
  { id: "in back", label: "Inside the back" },
];
const poses: Readonly<Record<Side, Pose>> = {
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
/** Largest motion drawn, as a share of the body's length. */
const drawnShare = 0.035;
/** s, of one swing. */
const period = 2.6;

/**
 * The body in space, moving in one of its modes: slowly, exaggerated by a stated factor, in the inks of the printed mode
 * sheets. Turned by hand, finger or key; cut open; looked at from inside. Still where motion is not wanted, and as flat
 * sheets where the browser cannot draw in space.
 */
export function BodyView({ view, sketch, mode, live }: BodyViewProps) {
  const [box, width] = useWidth<HTMLDivElement>();
  const [side, setSide] = useState<Side>("aslant");
  const [pose, setPose] = useState<Pose>(poses.aslant);
  const [cutting, setCutting] = useState<Cutting>("whole");
  const [cutAt, setCutAt] = useState(0.5);
  const [playing, setPlaying] = useState(() => !matchMedia("(prefers-reduced-motion: reduce)").matches);
  const [moment, setMoment] = useState(1);
  const motion = useMemo(() => modeMotion(view, live?.shapes ?? null, mode), [view, live?.shapes, mode]);
  const parts = useMemo(() => bodySolid(view, sketch), [view, sketch]);
  const height = Math.round(Math.min(620, Math.max(320, 0.46 * width)));
  const { canvas, scene, fault } = useBodyScene(parts, sketch.length, view.hand, width, height);
  const size = drawnShare * sketch.length;
  useDrawing(scene, { motion, pose, side, cutting, cutAt, view, sketch, size, playing, moment });
  const chosen = view.modes[mode];
  const told = chosen === undefined || motion === null ? null : sayMode(view, chosen, motion);
  const real = useMemo(() => motionFor1N(view, mode), [view, mode]);
  const turns = useTurning(pose, setPose);
  if (fault !== null) return <FlatModes view={view} mode={mode} fault={fault} told={told} />;
  return (
    <div className="body-view">
      <div className="view-controls">
        <Segments
          label="Seen from"
          value={side}
          options={sides}
          onChange={(to) => {
            setSide(to);
            setPose(poses[to]);
          }}
        />
        <Segments
          label="Cut"
          value={cutting}
          options={[
            { id: "whole", label: "Whole" },
            { id: "along", label: "Cut lengthwise" },
            { id: "across", label: "Cut across" },
          ]}
          onChange={setCutting}
        />
        {cutting === "whole" ? null : (
          <Slider
            label="Where it is cut"
            value={cutAt}
            least={0}
            greatest={1}
            step={0.01}
            say={(v) => sayCut(view, cutting, v)}
            onChange={setCutAt}
          />
        )}
      </div>
      <div className="body-sheet" ref={box} style={{ height }}>
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: turned by the arrow keys, as by hand */}
        <div className="body-turn" role="application" tabIndex={0} {...turns} aria-label={turnHelp}>
          <canvas
            ref={canvas}
            style={{ width, height }}
            role="img"
            aria-label={told ?? "No mode is shown."}
          />
        </div>
      </div>
      <div className="view-controls">
        <Tick isSelected={playing} onChange={setPlaying}>
          Moving
        </Tick>
        {playing ? null : (
          <Slider
            label="Moment of the swing"
            value={moment}
            least={-1}
            greatest={1}
            step={0.05}
            say={sayMoment}
            onChange={setMoment}
          />
        )}
        <Button sign="plus" onPress={() => setPose(zoomed(pose, 1.2))}>
          Larger
        </Button>
        <Button sign="minus" onPress={() => setPose(zoomed(pose, 1 / 1.2))}>
          Smaller
        </Button>
      </div>
      <p className="told">{told ?? "This mode carries no shape: only the lowest modes do."}</p>
      <Tints />
      <p className="note">
        {real === null
          ? "The size of the motion is free: the saddle hardly takes part in this mode."
          : `Drawn about ${sayFactor(size / real)} times as large as a steady force of 1 N at the saddle drives it at this frequency.`}{" "}
        Top and back move as computed; sides, braces and bridge ride along in the picture, the neck is drawn
        at rest. {sayMomentInk}
      </p>
    </div>
  );
}

const turnHelp =
  "The body in space. Arrow keys turn it, plus and minus make it larger and smaller, Home sets it back.";
const sayMomentInk = "Colours tell the direction at the moment shown.";

interface Drawn {
  readonly motion: ReturnType<typeof modeMotion>;
  readonly pose: Pose;
  readonly side: Side;
  readonly cutting: Cutting;
  readonly cutAt: number;
  readonly view: BodyViewProps["view"];
  readonly sketch: BodyViewProps["sketch"];
  readonly size: number;
  readonly playing: boolean;
  readonly moment: number;
}

/** Hands every change to the scene; swings it while it plays, else draws once a change. */
function useDrawing(scene: BodyScene | null, drawn: Drawn): void {
  const { motion, pose, side, cutting, cutAt, view, size, playing, moment } = drawn;
  useEffect(() => scene?.move(motion), [scene, motion]);
  useEffect(() => scene?.pose(pose), [scene, pose]);
  useEffect(() => {
    const gone = taken[side] ?? [];
    scene?.show(new Set(all.filter((kind) => !gone.includes(kind))));
  }, [scene, side]);
  useEffect(
    () => scene?.cut(cutting === "whole" ? null : { axis: cutting, at: cutPlace(view, cutting, cutAt) }),
    [scene, view, cutting, cutAt],
  );
  const still = useRef(0);
  useEffect(() => {
    if (scene === null) return;
    if (!playing) {
      scene.swing(moment, size);
      still.current = requestAnimationFrame(() => scene.draw());
      return () => cancelAnimationFrame(still.current);
    }
    let next = 0;
    const tick = (now: number) => {
      scene.swing(Math.sin((2 * Math.PI * now) / (1000 * period)), size);
      scene.draw();
      next = requestAnimationFrame(tick);
    };
    next = requestAnimationFrame(tick);
    return () => cancelAnimationFrame(next);
  });
}

/** Turning by pointer and by key. */
function useTurning(pose: Pose, setPose: (pose: Pose) => void) {
  const held = useRef<{ x: number; y: number } | null>(null);
  return {
    onPointerDown(event: React.PointerEvent<HTMLDivElement>) {
      event.currentTarget.setPointerCapture(event.pointerId);
      held.current = { x: event.clientX, y: event.clientY };
    },
    onPointerMove(event: React.PointerEvent<HTMLDivElement>) {
      if (held.current === null) return;
      const { x, y } = held.current;
      held.current = { x: event.clientX, y: event.clientY };
      setPose(turned(pose, (event.clientX - x) / 180, (event.clientY - y) / 180));
    },
    onPointerUp() {
      held.current = null;
    },
    onPointerCancel() {
      held.current = null;
    },
    onKeyDown(event: React.KeyboardEvent<HTMLDivElement>) {
      const next = keyPose(pose, event.key);
      if (next === null) return;
      event.preventDefault();
      setPose(next);
    },
  };
}

function keyPose(pose: Pose, pressed: string): Pose | null {
  const step = Math.PI / 18;
  if (pressed === "ArrowLeft") return turned(pose, -step, 0);
  if (pressed === "ArrowRight") return turned(pose, step, 0);
  if (pressed === "ArrowUp") return turned(pose, 0, -step);
  if (pressed === "ArrowDown") return turned(pose, 0, step);
  if (pressed === "+" || pressed === "=") return zoomed(pose, 1.15);
  if (pressed === "-") return zoomed(pose, 1 / 1.15);
  return pressed === "Home" ? poses.aslant : null;
}

function turned(pose: Pose, yaw: number, pitch: number): Pose {
  return { ...pose, yaw: pose.yaw + yaw, pitch: pose.pitch + pitch };
}

function zoomed(pose: Pose, by: number): Pose {
  return { ...pose, zoom: Math.min(6, Math.max(0.4, pose.zoom * by)) };
}

/** Where the plane lies, m: across at a share of the length, lengthwise at a share of the breadth. */
function cutPlace({ plan }: BodyViewProps["view"], axis: Cut["axis"], share: number): number {
  const values = plan.outline.filter((_, i) => i % 2 === (axis === "across" ? 0 : 1));
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return low + share * (high - low);
}

function sayCut(view: BodyViewProps["view"], axis: Cut["axis"], share: number): string {
  const mm = 1000 * cutPlace(view, axis, share);
  return axis === "across"
    ? `${mm.toFixed(0)} mm from the tail`
    : `${Math.abs(mm).toFixed(0)} mm ${mm === 0 ? "off" : mm > 0 === (view.hand === "right") ? "to the bass of" : "to the treble of"} the centreline`;
}

function sayMoment(moment: number): string {
  if (Math.abs(moment) < 0.025) return "at rest";
  const way = moment > 0 ? "one way" : "the other way";
  return Math.abs(moment) > 0.99 ? `farthest ${way}` : `${Math.round(100 * Math.abs(moment))} % ${way}`;
}

/** Two figures of a factor. */
function sayFactor(factor: number): string {
  return Number(factor.toPrecision(factor >= 10 ? 2 : 1)).toLocaleString("en");
}

/** The scale of the tints. */
function Tints() {
  const steps = ["in4", "in3", "in2", "in1", "paper", "out1", "out2", "out3", "out4"];
  return (
    <p className="tints">
      <span>inward</span>
      <svg width="198" height="18" aria-hidden="true">
        {steps.map((tint, i) => (
          <rect key={tint} x={22 * i} y="1" width="22" height="16" fill={`var(--${tint})`} />
        ))}
        <rect className="frame" x="0.5" y="0.5" width="197" height="17" />
      </svg>
      <span>outward; a line in ink where nothing moves</span>
    </p>
  );
}

/** What is shown where the browser cannot draw in space. */
function FlatModes({
  view,
  mode,
  fault,
  told,
}: {
  readonly view: BodyViewProps["view"];
  readonly mode: number;
  readonly fault: string;
  readonly told: string | null;
}) {
  const chosen = view.modes[mode];
  const sheet = useMemo(() => (chosen === undefined ? null : modeSheet(chosen, view)), [chosen, view]);
  return (
    <div className="body-view">
      <p>{fault} The mode is drawn flat instead, both plates as seen from the front.</p>
      {sheet === null ? <p>This mode carries no shape.</p> : <Figure drawing={sheet} />}
      {told === null ? null : <p className="told">{told}</p>}
    </div>
  );
}
