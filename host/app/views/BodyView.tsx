import { useMemo, useRef, useState } from "react";
import { Button, Segments, Slider, Tick } from "../kit/index.ts";
import { type Cutting, poses, type Side, sayCut, sayFactor, sayMoment, sides, zoomed } from "./bodyPose.ts";
import type { Pose } from "./bodyScene.ts";
import { bodySolid } from "./bodySolid.ts";
import { FlatModes } from "./FlatModes.tsx";
import { modeMotion, motionFor1N, sayMode } from "./modeMotion.ts";
import { Tints } from "./Tints.tsx";
import { useBodyScene } from "./useBodyScene.ts";
import { useDrawing } from "./useDrawing.ts";
import { useTurning } from "./useTurning.ts";
import { useWidth } from "./useWidth.ts";
import type { BodyViewProps } from "./viewTypes.ts";
import "./body.css";

/** Largest motion drawn, as a share of the body's length. */
const drawnShare = 0.035;
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
  // the solid is of the voice's document: while a newer one is drawn and not yet computed, it stays
  const drawn = useRef({ view, sketch });
  if (drawn.current.view !== view) drawn.current = { view, sketch };
  const of = drawn.current;
  const parts = useMemo(() => bodySolid(of.view, of.sketch), [of]);
  const height = Math.round(Math.min(620, Math.max(320, 0.46 * width)));
  const { canvas, scene, fault } = useBodyScene(parts, sketch.length, view.hand, width, height);
  const size = drawnShare * sketch.length;
  useDrawing(scene, { motion, pose, side, cutting, cutAt, view, size, playing, moment });
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
        at rest. Colours tell the direction at the moment shown.
      </p>
    </div>
  );
}

const turnHelp =
  "The body in space. Arrow keys turn it, plus and minus make it larger and smaller, Home sets it back.";
