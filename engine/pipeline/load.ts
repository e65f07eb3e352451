import { domeHeight, polygonCentroid } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import { footprintRotation, type PanelLoad, type PanelSystem, panelStatic } from "#engine/shells";
import { inUnit } from "#engine/units";
import {
  bridgeRotation,
  markMeant,
  saddleFit,
  stringStrength,
  totalLoad,
  type Verdict,
} from "#engine/verdicts";
import type { InstrumentGeometry } from "./geometry.ts";
import { platePanels } from "./platePanels.ts";
import { plateSystem } from "./soundBody.ts";
import { type Stages, unwatched } from "./stages.ts";
import { type Stamp, stamp } from "./stamp.ts";
import type { SetString } from "./stringSet.ts";

/** Strings at pitch and what they do to the bridge. */
export interface StringLoad {
  readonly strings: readonly SetString[];
  /** Sum of the tensions, N. */
  readonly total: number;
  /** Of the bridge's footprint, rad, positive toward the nut; elastic, rim rigid. */
  readonly rotation: number;
  /** Couple of the string load about the footprint's centre on the mid-surface, about +y, N m. */
  readonly moment: number;
  /** Outward motion of the mid-surface under the middle of the saddle, and the least and greatest over the top, m. */
  readonly saddleRise: number;
  readonly topRange: readonly [least: number, greatest: number];
}

/** The JSON contract of `load`. */
export interface LoadReport {
  readonly strings: readonly {
    readonly string: number;
    readonly note: string;
    readonly tensionN: number;
    readonly linearDensityKgPerM: number;
    readonly breakMargin: number;
    readonly inharmonicityB: number;
  }[];
  readonly totalN: number;
  readonly bridge: {
    readonly rotationDeg: number;
    readonly momentNm: number;
    readonly saddleRiseM: number;
    readonly topLeastM: number;
    readonly topGreatestM: number;
    readonly validity: string;
  };
  readonly verdicts: readonly Verdict[];
  readonly stamp: Stamp;
}

export const loadValidity =
  "elastic model, perfect joints assumed; plates on a rigid rim, so the neck block does not turn; creep is not in it and " +
  "multiplies the rotation over months and years by an amount known only within a factor of 1.5 to 2";

/** Static answer of the top to the strings at pitch (physics of the load: tension at each crown, towards the nut). */
export function stringLoad(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  top: PanelSystem,
): Outcome<StringLoad> {
  const load = bridgeLoad(build, geometry, strings);
  const saddle = middle(build.bridge.saddleLine);
  const solved = panelStatic(top, [load], [saddle]);
  if (!solved.ok) return solved;
  const { motion, points } = solved.value;
  let least = 0;
  let greatest = 0;
  for (let node = 0; node < motion.length / 6; node++) {
    least = Math.min(least, motion[6 * node + 2]!);
    greatest = Math.max(greatest, motion[6 * node + 2]!);
  }
  return done(
    {
      strings,
      total: strings.reduce((sum, s) => sum + s.tension, 0),
      rotation: footprintRotation(top, motion, build.bridge.polygon),
      moment: load.couple[1],
      saddleRise: points[2]!,
      topRange: [least, greatest],
    },
    solved.warnings,
  );
}

type Axis = 0 | 1 | 2;

/** All tensions gathered at the centre of the bridge's footprint on the mid-surface: the total force and its couple. */
function bridgeLoad(build: Build, { plan }: InstrumentGeometry, strings: readonly SetString[]): PanelLoad {
  const [cx, cy] = polygonCentroid(build.bridge.polygon);
  const force: [number, number, number] = [0, 0, 0];
  const couple: [number, number, number] = [0, 0, 0];
  strings.forEach((s, i) => {
    const { crown, direction } = build.strings[i]!;
    const slope = stringSlope(build, plan.length, i);
    const scale = s.tension / Math.hypot(direction[0], direction[1], slope);
    const f = [scale * direction[0], scale * direction[1], scale * slope] as const;
    const r = [crown[0] - cx, crown[1] - cy, crown[2]] as const;
    for (let axis = 0; axis < 3; axis++) {
      const j = ((axis + 1) % 3) as Axis;
      const k = ((axis + 2) % 3) as Axis;
      force[axis]! += f[axis]!;
      couple[axis]! += r[j]! * f[k]! - r[k]! * f[j]!;
    }
  });
  return { polygon: build.bridge.polygon, force, couple };
}

/**
 * Rise of the string per length along it, from the crown towards the nut: the nut lies on the pitched-back board. Heights
 * over the top's mid-surface at the body's edge; at the bridge the dome stands higher than there.
 */
function stringSlope(build: Build, bodyLength: number, index: number): number {
  const { neck, top, strings } = build;
  const { crown, nut, scaleLength } = strings[index]!;
  const crownPlane = top.meanThickness / 2 + neck.boardHeight + neck.boardThickness + neck.fretHeight;
  const nutHeight = crownPlane - Math.tan(neck.pitch) * (nut[0] - bodyLength);
  const rise = domeHeight(top.dome, crown[0], crown[1]) - domeHeight(top.dome, bodyLength, 0);
  return (nutHeight - crown[2] - rise) / scaleLength;
}

function middle([a, b]: Build["bridge"]["saddleLine"]): readonly [number, number] {
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}

/** Verdicts on the load, unmarked. */
export function loadVerdicts(build: Build, load: StringLoad): readonly Verdict[] {
  const { saddle } = build;
  const heights = [saddle.heightBass, saddle.heightTreble];
  return [
    stringStrength(
      load.strings.map((s) => ({
        string: s.string,
        note: s.note,
        tension: s.tension,
        breakingForce: s.design.breakingForce,
      })),
    ),
    totalLoad(load.strings.map((s) => s.tension)),
    saddleFit({
      stringHeight: [Math.min(...heights), Math.max(...heights)],
      bridgeHeight: build.bridge.thickness,
      slotDepth: saddle.slotDepth,
    }),
    bridgeRotation(load.rotation, build.targets.bridgeRotation),
  ];
}

/** The whole of `fairbout load`: the top's system is made here, no modes are needed. */
export function loadReport(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  nodesPerPlate: number,
  stages: Stages = unwatched,
): Outcome<LoadReport> {
  const watching = stages.stage("string load on the top", 0, 1);
  const panels = platePanels(build, geometry.plan, geometry.board);
  const system = plateSystem(panels.top, geometry.plan.areas.top, nodesPerPlate);
  if (!system.ok) return system;
  watching.progress(0.6);
  const load = stringLoad(build, geometry, strings, system.value);
  if (!load.ok) return load;
  return done({
    strings: stringRows(load.value.strings),
    totalN: load.value.total,
    bridge: {
      rotationDeg: inUnit(load.value.rotation, "deg"),
      momentNm: load.value.moment,
      saddleRiseM: load.value.saddleRise,
      topLeastM: load.value.topRange[0],
      topGreatestM: load.value.topRange[1],
      validity: loadValidity,
    },
    verdicts: markMeant(loadVerdicts(build, load.value), build.meant).verdicts,
    stamp: stamp("load", build, { nodesPerPlate }),
  });
}

/** Rows of the strings as the JSON contracts and the report name them. */
export function stringRows(strings: readonly SetString[]): LoadReport["strings"] {
  return strings.map((s) => ({
    string: s.string,
    note: s.note,
    tensionN: s.tension,
    linearDensityKgPerM: s.design.linearDensity,
    breakMargin: s.breakMargin,
    inharmonicityB: s.inharmonicityB,
  }));
}
