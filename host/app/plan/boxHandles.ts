import type { Point } from "#engine/geometry";
import type { InstrumentSketch, SketchPlate } from "#engine/pipeline";
import { type Cut, heights } from "./cut.ts";
import { domeRise } from "./drafted.ts";
import type { Entry, Handle } from "./handle.ts";
import type { Setting } from "./settings.ts";

const length = (path: string, value: number): readonly Setting[] => [{ path, kind: "length", value }];

/** What the side view is worked on by: depth at both ends, the two domes, the plates' thickness (by figure alone). */
export function boxHandles(sketch: InstrumentSketch): readonly Handle[] {
  const over = heights(sketch);
  const inner = (x: number): number => over.top([x, 0]) - sketch.top.meanThickness / 2;
  const depth = (key: "depthAtTail" | "depthAtNeck", x: number, name: string): Handle => {
    const path = `sides.${key}`;
    return {
      id: path,
      owner: "sides",
      view: "side",
      at: [x, inner(x) - sketch.sides[key]],
      look: "height",
      name,
      free: [false, true],
      fine: true,
      targets: [],
      moved: (to) => length(path, inner(x) - to[1]),
      entries: [
        {
          id: path,
          label: "between the inner faces",
          kind: "length",
          value: sketch.sides[key],
          set: (v) => length(path, v),
        },
      ],
    };
  };
  return [
    depth("depthAtTail", 0, "depth at the tail"),
    depth("depthAtNeck", sketch.length, "depth at the neck end"),
    ...plateHandle("top", sketch.top, sketch.length, (at) => over.top(at), 1),
    ...plateHandle(
      "back",
      sketch.back,
      sketch.length,
      (at) => over.back(at) - sketch.back.meanThickness / 2,
      -1,
    ),
  ];
}

/** A dish of a larger radius is flat: the document has no such dome, m. */
const flattest = 60;

/** A plate at the highest place of its dome; flat, at its middle: then it has figures only. */
function plateHandle(
  which: "top" | "back",
  plate: SketchPlate,
  bodyLength: number,
  over: (at: Point) => number,
  way: 1 | -1,
): readonly Handle[] {
  const { dome } = plate;
  const place: Point = dome === null ? [bodyLength / 2, 0] : [dome.apex[0], 0];
  const at: Point = [place[0], over(place)];
  const path = `${which}.dome.radius`;
  const rise = domeRise(plate);
  const thickness: readonly Entry[] =
    plate.thickness.kind === "uniform"
      ? [
          {
            id: `${which}.thickness`,
            label: `thickness of the ${which}`,
            kind: "length",
            value: plate.meanThickness,
            set: (v) => length(`${which}.thickness`, v),
          },
        ]
      : [];
  const radius: readonly Entry[] =
    dome === null
      ? []
      : [
          {
            id: path,
            label: "radius of the dome",
            kind: "length",
            value: dome.radius,
            set: (v) => length(path, v),
          },
        ];
  if (thickness.length + radius.length === 0) return [];
  return [
    {
      id: path,
      owner: "sides",
      view: "side",
      at,
      look: "height",
      name: dome === null ? which : `dome of the ${which}`,
      free: [false, dome !== null],
      fine: true,
      targets: [],
      // the rise goes as one over the radius; typed to a whole centimetre, which no dish is truer than
      moved: (to) => {
        if (dome === null) return [];
        const risen = rise + way * (to[1] - at[1]);
        const radius = risen <= 0 ? flattest : Math.min(flattest, (dome.radius * rise) / risen);
        return length(path, Math.round(100 * radius) / 100);
      },
      entries: [...radius, ...thickness],
    },
  ];
}

/** Heights of the braces where the section across cuts them: the whole profile is raised or lowered by the same share. */
export function cutHandles(cut: Cut, plate: "top" | "back" | "both"): readonly Handle[] {
  return cut.braces
    .filter(({ brace }) => plate === "both" || brace.plate === plate)
    .map(({ brace, peak, height }, i): Handle => {
      const path = `${brace.path}.height`;
      const way = brace.plate === "top" ? -1 : 1;
      return {
        id: `${path}.cut${i}`,
        owner: brace.path,
        view: "across",
        at: peak,
        look: "height",
        name: `${brace.name}, height`,
        free: [false, true],
        fine: true,
        targets: [],
        moved: (to) => {
          const there = height + way * (to[1] - peak[1]);
          return length(path, Math.max(0.001, (brace.height * there) / height));
        },
        entries: [
          {
            id: path,
            label: "full height",
            kind: "length",
            value: brace.height,
            set: (v) => length(path, v),
          },
          {
            id: `${brace.path}.width`,
            label: "width",
            kind: "length",
            value: brace.width,
            set: (v) => length(`${brace.path}.width`, v),
          },
        ],
      };
    });
}
