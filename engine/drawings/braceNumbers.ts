import { type Point, type Polygon, pointInPolygon } from "#engine/geometry";
import { circle, filled, group, lineMm, type Mark, words } from "./displayList.ts";
import type { Placing } from "./placing.ts";
import type { BoardView, BraceView, PlanView } from "./voiceView.ts";

const radius = 2.1;
/** Where along a brace, from the end nearer the bridge, its number may sit: best first. */
const places = [0.78, 0.66, 0.88, 0.54, 0.36, 0.22, 0.45, 0.1];

/** The number of every brace in a ring on it, clear of hole, fingerboard and the other rings where there is room. */
export function braceNumbers(plan: PlanView, board: BoardView, place: Placing): readonly Mark[] {
  const boardPolygon = Float64Array.from(
    [...board.bassEdge, board.trebleEdge[1], board.trebleEdge[0]].flat(),
  );
  const taken: (readonly [number, number])[] = [];
  return plan.braces.map((brace, i) => {
    const choices = candidates(brace, plan).map((p) => ({ p, at: place.point(...p) }));
    const clear = choices.filter(({ p }) => onWood(p, plan, boardPolygon));
    const gap = ([x, y]: readonly [number, number]) =>
      Math.min(...taken.map(([tx, ty]) => Math.hypot(x - tx, y - ty)), Number.MAX_VALUE);
    const { at } =
      clear.find((choice) => gap(choice.at) > 2 * radius + 0.4) ??
      (clear.length > 0 ? clear : choices).reduce((a, b) => (gap(b.at) > gap(a.at) ? b : a));
    taken.push(at);
    const ink = brace.plate === "top" ? "ink" : "soft";
    return group("brace number", [
      filled([circle(...at, radius)], "paper", { ink, widthMm: lineMm.thin }),
      words(String(i + 1), at[0], at[1] + 1, 2.8, { anchor: "middle", ink }),
    ]);
  });
}

function candidates({ path }: BraceView, { saddle }: PlanView): readonly Point[] {
  const bridge: Point = [(saddle[0][0] + saddle[1][0]) / 2, (saddle[0][1] + saddle[1][1]) / 2];
  const start: Point = [path[0], path[1]];
  const end: Point = [path[path.length - 2], path[path.length - 1]];
  const far = (p: Point) => Math.hypot(p[0] - bridge[0], p[1] - bridge[1]);
  const [from, to] = far(start) > far(end) ? [end, start] : [start, end];
  return places.map((f) => [from[0] + f * (to[0] - from[0]), from[1] + f * (to[1] - from[1])]);
}

function onWood([x, y]: Point, plan: PlanView, board: Polygon): boolean {
  return (
    pointInPolygon(plan.outline, x, y) && !pointInPolygon(plan.hole, x, y) && !pointInPolygon(board, x, y)
  );
}
