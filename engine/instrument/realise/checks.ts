/** Checks of fit that need the plan: what is placed where it cannot be. Paths are the document's. */
import { type BodyPlan, pointInRegion, polygonIntersection } from "#engine/geometry";
import { formatQuantity } from "#engine/units";
import type { Build } from "../build.ts";
import type { BuildPatch } from "../buildPlate.ts";
import { type Issue, stop, watch } from "../issue.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { boxIssues } from "./boxChecks.ts";
import { crossingIssues, hubIssues, namesOnce } from "./braceChecks.ts";
import { neckIssues } from "./neckChecks.ts";
import { metres } from "./reading.ts";
import { setupIssues } from "./setupChecks.ts";
import { gaugeIssues, tuningIssues } from "./tuningChecks.ts";

/** Millimetres for a message, to a tenth. */
const mm = (value: number): string => formatQuantity(value, "mm", 1);

/** Everything about the fit of the parts, in the order of the document. */
export function fitIssues(document: InstrumentDocument, build: Build, plan: BodyPlan): Issue[] {
  return [
    ...boardIssues(document),
    ...stringOrder(build),
    ...tuningIssues(build),
    ...gaugeIssues(build),
    ...namesOnce(document),
    ...hubIssues(document, build),
    ...crossingIssues(document, build),
    ...patchIssues(build, plan),
    ...bridgeIssues(document, build, plan),
    ...saddleIssues(document, build),
    ...neckIssues(document, build),
    ...setupIssues(document, build),
    ...boxIssues(document, build, plan),
    ...unmodelled(document),
  ];
}

/** Faults of board and neck that need no plan: these are found even when the outline is at fault. */
export function boardIssues(document: InstrumentDocument): Issue[] {
  const { neck, fingerboard, strings } = document;
  const issues: Issue[] = [];
  if (neck.joinFret > fingerboard.frets) {
    issues.push(
      stop(
        "join-fret",
        "neck.joinFret",
        `The neck joins at fret ${neck.joinFret}, but the board has only ${fingerboard.frets} frets.`,
        { found: String(neck.joinFret), allowed: `at most ${fingerboard.frets}` },
      ),
    );
  }
  const land = (metres(fingerboard.widthAtNut) - metres(strings.spreadAtNut)) / 2;
  if (land < 0.001) {
    issues.push(
      stop(
        "no-edge",
        "strings.spreadAtNut",
        `The outer strings lie ${mm(land)} from the board's edge at the nut.`,
        {
          allowed: "1 mm or more; 3 to 3.5 mm is customary (common practice, no source)",
          remedy: "A wider nut, or strings closer together.",
        },
      ),
    );
  }
  if (metres(strings.spreadAtSaddle) < metres(strings.spreadAtNut)) {
    issues.push(
      stop(
        "spread",
        "strings.spreadAtSaddle",
        "The strings lie closer together at the saddle than at the nut.",
        { found: strings.spreadAtSaddle, allowed: `${strings.spreadAtNut} or more` },
      ),
    );
  }
  if (fingerboard.centsTable !== undefined && fingerboard.centsTable.length < fingerboard.frets) {
    issues.push(
      stop(
        "cents-table",
        "fingerboard.centsTable",
        `The table has ${fingerboard.centsTable.length} entries for ${fingerboard.frets} frets.`,
        { allowed: "one entry for each fret" },
      ),
    );
  }
  return issues;
}

function stringOrder(build: Build): Issue[] {
  return build.strings.flatMap((s, i) => {
    const above = build.strings[i - 1];
    if (above === undefined || above.frequency >= s.frequency) return [];
    return [
      watch(
        "string-order",
        `strings.set[${i}].note`,
        `String ${s.string} (${s.note}) is higher than string ${above.string} (${above.note}); string 1 is taken for the highest.`,
        { remedy: "Fine if the tuning is meant to fold back; otherwise turn the list round." },
      ),
    ];
  });
}

function patchIssues(build: Build, plan: BodyPlan): Issue[] {
  const on = (patches: readonly BuildPatch[], region: BodyPlan["topRegion"], plate: string): Issue[] =>
    patches.flatMap((patch) => {
      const corners = cornersOf(patch.polygon);
      const off = corners.filter(([x, y]) => !pointInRegion(region, x, y)).length;
      if (off === 0) return [];
      return [
        stop(
          "patch-off-plate",
          patch.documentPath,
          `"${patch.name}" does not lie wholly on the ${plate}: ${off} of its ${corners.length} corners lie beyond the edge or over the hole.`,
          { remedy: "Move it, or make it smaller." },
        ),
      ];
    });
  return [
    ...on(build.top.patches, plan.topRegion, "top"),
    ...on(build.bridgePlate === null ? [] : [build.bridgePlate], plan.topRegion, "top"),
    ...on(build.back.patches, plan.backRegion, "back"),
  ];
}

function bridgeIssues(document: InstrumentDocument, build: Build, plan: BodyPlan): Issue[] {
  const issues: Issue[] = [];
  const corners = cornersOf(build.bridge.polygon);
  const overHole = polygonIntersection(build.bridge.polygon, plan.holePolygon, 1e-5).length > 0;
  if (overHole || corners.some(([x, y]) => !pointInRegion(plan.topRegion, x, y))) {
    const [x] = midpoint(build.bridge.saddleLine);
    issues.push(
      stop(
        "bridge-off-top",
        "bridge",
        `Scale and joining fret put the saddle ${mm(x)} from the tail; there the bridge does not lie wholly on the top.`,
        {
          remedy:
            "Change the scale, the joining fret, the body's length, the place of the hole or the size of the bridge.",
        },
      ),
    );
  }
  const spread = metres(document.strings.spreadAtSaddle);
  const middle = metres(document.bridge.length) - 2 * metres(document.bridge.wings?.length ?? "0 mm");
  if (spread > middle) {
    issues.push(
      stop(
        "bridge-too-short",
        "bridge",
        `The strings spread ${mm(spread)} at the saddle, but the thick middle of the bridge is only ${mm(middle)} long.`,
        { remedy: "A longer bridge, or shorter wings." },
      ),
    );
  }
  if (
    metres(document.bridge.saddleFromFront) + metres(document.saddle.width) / 2 >=
    metres(document.bridge.width)
  ) {
    issues.push(
      stop("saddle-off-bridge", "bridge.saddleFromFront", "The saddle's slot lies behind the bridge.", {
        found: document.bridge.saddleFromFront,
        allowed: `less than the bridge's width of ${document.bridge.width}`,
      }),
    );
  }
  return issues;
}

function saddleIssues(document: InstrumentDocument, build: Build): Issue[] {
  const { saddle, bridge, neck } = build;
  const issues: Issue[] = [];
  if (saddle.slotDepth >= bridge.thickness) {
    issues.push(
      stop(
        "slot-through",
        "saddle.slotDepth",
        `The slot is ${mm(saddle.slotDepth)} deep in a bridge ${mm(bridge.thickness)} thick.`,
        {
          found: document.saddle.slotDepth,
          allowed:
            "less than the bridge's thickness; 2 mm or more left under it is customary (common practice, no source)",
        },
      ),
    );
  }
  const tallest = bridge.thickness + 2 * saddle.slotDepth;
  for (const [path, height] of [
    ["saddle.heightBass", saddle.heightBass],
    ["saddle.heightTreble", saddle.heightTreble],
  ] as const) {
    if (height > tallest + 5e-5) {
      issues.push(
        stop(
          "saddle-too-tall",
          path,
          `A string ${mm(height)} over the top lets ${mm(height - bridge.thickness)} of the saddle show over ${mm(saddle.slotDepth)} in its slot: it would lean and break out.`,
          {
            allowed: `at most ${mm(tallest)} with this bridge and slot (no more than twice the seat)`,
            remedy: "A thicker bridge, a deeper slot, or a neck pitch that asks for less height.",
          },
        ),
      );
    }
  }
  for (const [path, height, asked] of [
    ["saddle.heightBass", saddle.heightBass, saddle.askedBass],
    ["saddle.heightTreble", saddle.heightTreble, saddle.askedTreble],
  ] as const) {
    const off = height - asked;
    if (Math.abs(off) > 0.001) {
      issues.push(
        watch(
          "saddle-height",
          path,
          `With this neck pitch, board and action the string would run ${mm(asked)} over the top at the saddle; the document says ${mm(height)}.`,
          {
            remedy: `Tilt the neck ${off > 0 ? "further back (more pitch)" : "less far back (less pitch)"}, or change height or action; pitch now ${formatQuantity(neck.pitch, "deg", 2)}.`,
          },
        ),
      );
    }
  }
  return issues;
}

function unmodelled(document: InstrumentDocument): Issue[] {
  const { guard } = document.fittings;
  return guard === undefined
    ? []
    : [
        watch(
          "not-modelled",
          "fittings.guard",
          `The guard plate's ${guard.mass} is written down but not yet in the model of the top.`,
        ),
      ];
}

function cornersOf(polygon: Float64Array): (readonly [number, number])[] {
  return Array.from(
    { length: polygon.length / 2 },
    (_, i) => [polygon[2 * i] ?? 0, polygon[2 * i + 1] ?? 0] as const,
  );
}

function midpoint([a, b]: Build["bridge"]["saddleLine"]): readonly [number, number] {
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}
