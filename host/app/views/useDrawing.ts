import { useEffect, useRef } from "react";
import type { VoiceView } from "#engine/drawings";
import { type Cutting, cutPlace, type Side, shownFrom } from "./bodyPose.ts";
import type { BodyScene, Pose } from "./bodyScene.ts";
import type { ModeMotion } from "./modeMotion.ts";

/** s, of one swing. */
const period = 2.6;

/** ms between two pictures: a swing so slow needs no more than thirty a second. */
const leastGap = 30;

interface Drawn {
  readonly motion: ModeMotion | null;
  readonly pose: Pose;
  readonly side: Side;
  readonly cutting: Cutting;
  readonly cutAt: number;
  readonly view: VoiceView;
  readonly size: number;
  readonly playing: boolean;
  readonly moment: number;
}

/** Hands every change to the scene; swings it while it plays, else draws once a change. */
export function useDrawing(scene: BodyScene | null, drawn: Drawn): void {
  const { motion, pose, side, cutting, cutAt, view, size, playing, moment } = drawn;
  useEffect(() => scene?.move(motion), [scene, motion]);
  useEffect(() => scene?.pose(pose), [scene, pose]);
  useEffect(() => scene?.show(shownFrom(side)), [scene, side]);
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
    let drawnAt = 0;
    const tick = (now: number) => {
      next = requestAnimationFrame(tick);
      if (now - drawnAt < leastGap) return;
      drawnAt = now;
      scene.swing(Math.sin((2 * Math.PI * now) / (1000 * period)), size);
      scene.draw();
    };
    next = requestAnimationFrame(tick);
    return () => cancelAnimationFrame(next);
  });
}
