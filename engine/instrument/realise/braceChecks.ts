/** Checks on braces among each other: names, hub, crossings. */
import { nearestOnPolyline, pointInPolygon } from "#engine/geometry";
import { formatQuantity } from "#engine/units";
import type { Build } from "../build.ts";
import { type Issue, stop, watch } from "../issue.ts";
import type { InstrumentDocument } from "../schema/document.ts";

const mm = (value: number): string => formatQuantity(value, "mm", 1);

/** No two braces of a plate have one name. */
export function namesOnce(document: InstrumentDocument): Issue[] {
  return (["top", "back"] as const).flatMap((plate) => {
    const seen = new Map<string, number>();
    return document[plate].braces.flatMap(({ name }, i) => {
      const first = seen.get(name);
      seen.set(name, first ?? i);
      if (first === undefined) return [];
      return [
        stop(
          "name-twice",
          `${plate}.braces[${i}].name`,
          `Two braces of the ${plate} are called "${name}" (numbers ${first + 1} and ${i + 1}).`,
          { found: JSON.stringify(name), allowed: "a name of its own for each brace" },
        ),
      ];
    });
  });
}

/** Braces that end at the hub are there, end at it, and do not run into each other. */
export function hubIssues(document: InstrumentDocument, build: Build): Issue[] {
  return (["top", "back"] as const).flatMap((plate) => {
    const { hub } = document[plate];
    if (hub === undefined) return [];
    const patch = build[plate].patches.find((p) => p.documentPath === `${plate}.hub.patch`);
    if (patch === undefined) return [];
    const issues: Issue[] = [];
    const inner: { name: string; x: number; y: number; width: number }[] = [];
    hub.braces.forEach((name, i) => {
      const path = `${plate}.hub.braces[${i}]`;
      const pieces = build[plate].braces.filter((b) => b.name === name);
      if (!document[plate].braces.some((b) => b.name === name)) {
        issues.push(
          stop("no-such-brace", path, `There is no brace "${name}" on the ${plate}.`, {
            found: JSON.stringify(name),
            allowed: "the name of a brace",
            example: JSON.stringify(build[plate].braces[0]?.name ?? ""),
          }),
        );
        return;
      }
      // A brace that could not be realised has an issue of its own.
      if (pieces.length === 0) return;
      const ends = pieces.flatMap((b) => [
        [b.path[0] ?? 0, b.path[1] ?? 0] as const,
        [b.path[2] ?? 0, b.path[3] ?? 0] as const,
      ]);
      const nearest = ends
        .map(([x, y]) => ({
          x,
          y,
          away: pointInPolygon(patch.polygon, x, y)
            ? 0
            : nearestOnPolyline(patch.polygon, x, y, true).distance,
        }))
        .reduce((a, b) => (b.away < a.away ? b : a));
      if (nearest.away > 0.003) {
        issues.push(
          stop("hub-missed", path, `The brace "${name}" ends ${mm(nearest.away)} away from the hub.`, {
            allowed: "an end on the hub, or within 3 mm of its edge",
            remedy: "Move the brace's end, or take the brace out of the hub's list.",
          }),
        );
      }
      inner.push({ name, x: nearest.x, y: nearest.y, width: pieces[0]?.width ?? 0 });
    });
    inner.forEach((a, i) => {
      for (const b of inner.slice(i + 1)) {
        const apart = Math.hypot(a.x - b.x, a.y - b.y);
        if (apart < (a.width + b.width) / 2) {
          issues.push(
            stop(
              "braces-collide",
              `${plate}.hub`,
              `At the hub "${a.name}" and "${b.name}" end ${mm(apart)} apart, less than they are wide.`,
              { remedy: "A larger hub, or fewer or narrower braces: they must not run into one point." },
            ),
          );
        }
      }
    });
    return issues;
  });
}

/** Braces that cross have a stated joint; a stated joint has two braces that cross. */
export function crossingIssues(document: InstrumentDocument, build: Build): Issue[] {
  return (["top", "back"] as const).flatMap((plate) => {
    const issues: Issue[] = [];
    const { braces } = build[plate];
    const stated = new Set<string>();
    const key = (a: string, b: string): string => JSON.stringify([a, b].sort());
    (document[plate].crossings ?? []).forEach(({ braces: pair }, i) => {
      stated.add(key(pair[0], pair[1]));
      pair.forEach((name, k) => {
        if (document[plate].braces.some((b) => b.name === name)) return;
        issues.push(
          stop(
            "no-such-brace",
            `${plate}.crossings[${i}].braces[${k}]`,
            `There is no brace "${name}" on the ${plate}.`,
            {
              found: JSON.stringify(name),
              allowed: "the name of a brace",
              example: JSON.stringify(document[plate].braces[0]?.name ?? ""),
            },
          ),
        );
      });
    });
    braces.forEach((a, i) => {
      for (const b of braces.slice(i + 1)) {
        if (a.name === b.name || stated.has(key(a.name, b.name)) || !cross(a.path, b.path)) continue;
        issues.push(
          watch(
            "crossing-not-stated",
            `${plate}.crossings`,
            `"${a.name}" and "${b.name}" cross, but it is not said how; both are taken to run through in full section.`,
            { example: JSON.stringify({ braces: [a.name, b.name], joint: "lapped" }) },
          ),
        );
      }
    });
    return issues;
  });
}

function cross(p: Float64Array, q: Float64Array): boolean {
  const side = (a: Float64Array, x: number, y: number): number =>
    ((a[2] ?? 0) - (a[0] ?? 0)) * (y - (a[1] ?? 0)) - ((a[3] ?? 0) - (a[1] ?? 0)) * (x - (a[0] ?? 0));
  const apart = (a: Float64Array, b: Float64Array): boolean =>
    side(a, b[0] ?? 0, b[1] ?? 0) * side(a, b[2] ?? 0, b[3] ?? 0) >= 0;
  return !apart(p, q) && !apart(q, p);
}
