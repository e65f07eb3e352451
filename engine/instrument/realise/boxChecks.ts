/** Checks on what stands inside the box: blocks, rods, linings and braces between top and back, and how domes lie on it. */
import {
  type BodyPlan,
  cavityDepth,
  distanceToPolyline,
  pointInPolygon,
  pointInRegion,
} from "#engine/geometry";
import { formatQuantity } from "#engine/units";
import type { Build, RimPart } from "../build.ts";
import { type Issue, stop } from "../issue.ts";
import type { InstrumentDocument } from "../schema/document.ts";

const mm = (value: number): string => formatQuantity(value, "mm", 1);

/** Play of a part in its place, m: parts are cut to their place and levelled with it. */
const play = 1e-3;
/** A rod's end is held through its foot or socket by what is as near as this, m: common practice, no source. */
const footReach = 0.02;
/** Sine of the steepest slope of a dome: beyond 30 degrees a plate is no longer laid out on its plan. */
const steepest = 0.5;

type DepthAt = (x: number, y: number) => number;

/** Everything about the inside of the box, in the order of the document. */
export function boxIssues(document: InstrumentDocument, build: Build, plan: BodyPlan): Issue[] {
  const cavity = { ...build.body, length: plan.length };
  const depthAt: DepthAt = (x, y) => cavityDepth(cavity, x, y);
  return [
    ...domeIssues(build, plan),
    ...braceIssues(build, depthAt),
    ...liningIssues(document, build, plan, depthAt),
    ...blockIssues(build, plan, depthAt),
    ...rodIssues(document, build, plan, depthAt),
  ];
}

function domeIssues(build: Build, plan: BodyPlan): Issue[] {
  return (["top", "back"] as const).flatMap((plate) => {
    const { dome } = build[plate];
    if (dome === null) return [];
    const farthest = Math.max(
      ...places(plan.outlinePolygon).map(([x, y]) => Math.hypot(x - dome.apex[0], y - dome.apex[1])),
    );
    if (farthest <= steepest * dome.radius) return [];
    const slope = Math.asin(Math.min(1, farthest / dome.radius));
    return [
      stop(
        "dome-too-steep",
        `${plate}.dome`,
        `With its apex at ${dome.apex.map(mm).join(", ")} this dome makes the ${plate} slope by ${formatQuantity(slope, "deg", 0)} at the far edge.`,
        {
          allowed: "at most 30 deg anywhere",
          remedy: "Put the apex over the body, near its middle, or take a larger radius.",
        },
      ),
    ];
  });
}

/** A brace must end before it meets the other plate. */
function braceIssues(build: Build, depthAt: DepthAt): Issue[] {
  return (["top", "back"] as const).flatMap((plate) => {
    const told = new Set<string>();
    return build[plate].braces.flatMap(({ name, documentPath, path, heights }) => {
      const [x0, y0, x1, y1] = path as unknown as [number, number, number, number];
      for (const [s, height] of heights) {
        const depth = depthAt(x0 + (x1 - x0) * s, y0 + (y1 - y0) * s);
        if (height < depth || told.has(documentPath)) continue;
        told.add(documentPath);
        return [
          stop(
            "brace-through-box",
            `${documentPath}.height`,
            `The brace "${name}" is ${mm(height)} high where the box is ${mm(depth)} deep: it would run through the ${plate === "top" ? "back" : "top"}.`,
            { found: mm(height), allowed: `less than ${mm(depth)}` },
          ),
        ];
      }
      return [];
    });
  });
}

function liningIssues(
  { sides }: InstrumentDocument,
  build: Build,
  plan: BodyPlan,
  depthAt: DepthAt,
): Issue[] {
  const least = Math.min(...places(plan.outlinePolygon).map(([x, y]) => depthAt(x, y)));
  const both = build.sides.topLining.height + build.sides.backLining.height;
  if (both <= least) return [];
  return [
    stop(
      "linings-meet",
      "sides.topLining.height",
      `Both linings together are ${mm(both)} high, but the box is only ${mm(least)} deep where it is shallowest.`,
      { found: sides.topLining.height, allowed: `at most ${mm(least)} with the lining of the back` },
    ),
  ];
}

function blockIssues(build: Build, plan: BodyPlan, depthAt: DepthAt): Issue[] {
  return blocksOf(build).flatMap(({ part, path }) => {
    const { name, size } = part;
    const spots = planSpots(part);
    const inside = spots.filter(([x, y]) => pointInPolygon(plan.outlinePolygon, x, y));
    const share = inside.length / spots.length;
    if (share < 0.5) {
      return [
        stop(
          "block-outside",
          path,
          share === 0
            ? `The block "${name}" lies wholly outside the body.`
            : `Only ${Math.round(100 * share)} % of the block "${name}" lies inside the body.`,
          {
            found: `centre at ${mm(part.centre[0])}, ${mm(part.centre[1])}`,
            allowed: "at least half of it within the outline",
            remedy:
              "Move its centre: the first number runs from the tail towards the neck, the second towards the bass side; or make it smaller.",
          },
        ),
      ];
    }
    const deep = Math.max(...inside.map(([x, y]) => depthAt(x, y)));
    const issues: Issue[] = [];
    if (size[2] > deep + play) {
      issues.push(
        stop(
          "block-too-high",
          `${path}.height`,
          `The block "${name}" is ${mm(size[2])} high, but the box is only ${mm(deep)} deep there.`,
          { found: mm(size[2]), allowed: `at most ${mm(deep)}` },
        ),
      );
    }
    const held = inside.some(
      ([x, y]) =>
        pointInRegion(plan.topRegion, x, y) ||
        distanceToPolyline(plan.outlinePolygon, x, y, true) < build.sides.thickness + footReach,
    );
    if (!held) {
      issues.push(
        stop("block-loose", path, `The block "${name}" hangs under the sound hole: it touches nothing.`, {
          remedy: "Move it under the wood of the top, or out to the side.",
        }),
      );
    }
    return issues;
  });
}

/** Ends lie inside the box and at something that holds them. */
function rodIssues(document: InstrumentDocument, build: Build, plan: BodyPlan, depthAt: DepthAt): Issue[] {
  return build.rods.flatMap((rod, i) => {
    const name = document.rods?.[i]?.name ?? `rod ${i + 1}`;
    const length = Math.hypot(...rod.from.map((v, k) => v - (rod.to[k] ?? v)));
    if (length < rod.diameter) {
      return [
        stop(
          "rod-too-short",
          `rods[${i}]`,
          `The rod "${name}" is ${mm(length)} long, shorter than it is thick.`,
          { remedy: "Look at its two ends: they are the same place, or nearly." },
        ),
      ];
    }
    return (["from", "to"] as const).flatMap((end): Issue[] => {
      const [x, y, z] = rod[end];
      const path = `rods[${i}].${end}`;
      if (!pointInPolygon(plan.outlinePolygon, x, y)) {
        return [
          stop("rod-outside", `${path}.at`, `An end of the rod "${name}" lies outside the body.`, {
            found: `${mm(x)}, ${mm(y)}`,
            allowed: "a place within the outline",
            remedy: "The first number runs from the tail towards the neck, the second towards the bass side.",
          }),
        ];
      }
      const depth = depthAt(x, y);
      if (-z > depth + play) {
        return [
          stop(
            "rod-outside",
            `${path}.depth`,
            `An end of the rod "${name}" lies ${mm(-z)} down, but the box is only ${mm(depth)} deep there.`,
            { found: mm(-z), allowed: `at most ${mm(depth)}` },
          ),
        ];
      }
      const away = Math.min(
        -z,
        depth + z,
        distanceToPolyline(plan.outlinePolygon, x, y, true) - build.sides.thickness,
        ...blocksOf(build).map(({ part }) => outsideOf(part, [x, y, z])),
      );
      if (away <= footReach) return [];
      return [
        stop(
          "rod-end-loose",
          path,
          `An end of the rod "${name}" stands free in the box, ${mm(away)} from the nearest block, side or plate.`,
          { allowed: `at most ${mm(footReach)} (what its foot or socket bridges)` },
        ),
      ];
    });
  });
}

/** Blocks with their places in the document; they stand first among the rim's parts, neck and tail before the others. */
function blocksOf({ rimParts }: Build): { readonly part: RimPart; readonly path: string }[] {
  const named = ["blocks.neck", "blocks.tail"];
  return rimParts
    .filter(({ kind }) => kind === "block")
    .map((part, i) => ({ part, path: named[i] ?? `blocks.others[${i - named.length}]` }));
}

/** A grid of places over a block's plan, m. */
function planSpots({ centre, size }: RimPart): (readonly [number, number])[] {
  const steps = Array.from({ length: 11 }, (_, k) => (k + 0.5) / 11 - 0.5);
  return steps.flatMap((a) => steps.map((b) => [centre[0] + a * size[0], centre[1] + b * size[1]] as const));
}

/** Distance of a place from a block's box, 0 inside it. */
function outsideOf({ centre, size }: RimPart, p: readonly [number, number, number]): number {
  return Math.hypot(...p.map((v, k) => Math.max(0, Math.abs(v - (centre[k] ?? v)) - (size[k] ?? 0) / 2)));
}

function places(polygon: Float64Array): (readonly [number, number])[] {
  return Array.from(
    { length: polygon.length / 2 },
    (_, i) => [polygon[2 * i] ?? 0, polygon[2 * i + 1] ?? 0] as const,
  );
}
