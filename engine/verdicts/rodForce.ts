import { sayForce } from "./say.ts";
import type { Verdict } from "./verdict.ts";

/** Force in an adjustable rod, N: as stated or as the relief wanted takes; and at which its thread yields. */
export interface RodForceFigures {
  readonly force: number;
  readonly stated: boolean;
  readonly strength: number;
}

const working = 0.5;

/** Force of the adjustable rod against its thread: beyond half of what it yields at watch, beyond all of it stop. */
export function rodForce({ force, stated, strength }: RodForceFigures): Verdict {
  const size = Math.abs(force);
  const level = size > strength ? "stop" : size > working * strength ? "watch" : "good";
  return {
    id: "rod-force",
    title: "Force in the truss rod",
    level,
    computed: `${sayForce(size)} ${stated ? "stated" : "for the relief wanted"}`,
    limit: `half of what its thread yields at, ${sayForce(strength)} (mild steel, 300 MPa on the thread's core)`,
    source: "common practice, no source",
    why:
      level === "stop"
        ? "the thread strips or the rod breaks before it is so tight"
        : level === "watch"
          ? "the nut turns hard and the thread may strip within a few settings"
          : "the rod has strength in hand",
    whatWouldChange:
      "a thicker rod, a stiffer neck or carbon bars so that it has less to do, lighter strings",
    sureness:
      "the steel is not stated: rods of better steel bear half as much again; friction in the nut is not in it",
    figures: { force, strength },
    canHurt: false,
  };
}
