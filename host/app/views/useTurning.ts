import { type KeyboardEvent, type PointerEvent, useRef } from "react";
import { keyPose, turned } from "./bodyPose.ts";
import type { Pose } from "./bodyScene.ts";

/** Turning by pointer and by key. */
export function useTurning(pose: Pose, setPose: (pose: Pose) => void) {
  const held = useRef<{ x: number; y: number } | null>(null);
  return {
    onPointerDown(event: PointerEvent<HTMLDivElement>) {
      event.currentTarget.setPointerCapture(event.pointerId);
      held.current = { x: event.clientX, y: event.clientY };
    },
    onPointerMove(event: PointerEvent<HTMLDivElement>) {
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
    onKeyDown(event: KeyboardEvent<HTMLDivElement>) {
      const next = keyPose(pose, event.key);
      if (next === null) return;
      event.preventDefault();
      setPose(next);
    },
  };
}
