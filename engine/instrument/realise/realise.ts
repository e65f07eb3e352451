import {
  type BodyPlan,
  type BodySpec,
  boardLayout,
  boardToBody,
  bodyPlan,
  type OutlineSpec,
} from "#engine/geometry";
import type { Build, BuildClimate, BuildTargets, Realised, TargetRange } from "../build.ts";
import type { Issue } from "../issue.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { anchorBehind, realiseBridge } from "./bridge.ts";
import { boardIssues, fitIssues } from "./checks.ts";
import { crownsAcross, realiseFingerboard } from "./fingerboard.ts";
import { realiseNeck } from "./neck.ts";
import { inMillimetres, planFault } from "./planFault.ts";
import { realisePatch, realisePlate, realiseThickness, solidOnPlate } from "./plate.ts";
import { type Ledger, metres, orUsual, point, points, radians, si } from "./reading.ts";
import { liningVolume, realiseRimParts, realiseRods, realiseSides } from "./rim.ts";
import { realiseSaddle } from "./saddle.ts";
import { realiseNut, realiseSetup } from "./setup.ts";
import { layoutIssue } from "./squareFret.ts";
import { realiseBoard, realiseStrings, tuningReference } from "./strings.ts";
import { realiseTunings } from "./tunings.ts";

export type Realisation =
  | ({ readonly ok: true } & Realised)
  | { readonly ok: false; readonly issues: readonly Issue[] };

/**
 * A checked document in SI: every quantity converted once, parts placed by each other, all faults of fit gathered.
 * Computed right-handed whatever the hand. A fault of the outline or the board hides what can only be placed on them.
 */
export function realise(document: InstrumentDocument): Realisation {
  const ledger: Ledger = { uncertain: [], assumed: [], species: [], issues: [] };
  const board = realiseBoard(document);
  const body = realiseBody(document);
  const sides = realiseSides(document, ledger);
  const rods = realiseRods(document, ledger);
  const plan = bodyPlan({ ...body, hand: "right" });
  if (!plan.ok) ledger.issues.push(planFault(plan.reason, plan.detail));
  const boardFaults = boardIssues(document);
  const layout = boardLayout(board);
  if (!layout.ok && boardFaults.length === 0) {
    ledger.issues.push(layoutIssue(document, board, layout.reason, layout.detail));
  }
  if (!plan.ok || !layout.ok) return { ok: false, issues: [...ledger.issues, ...boardFaults] };

  const placed = boardToBody(layout.value, board, document.neck.joinFret, plan.value.length);
  if (!placed.ok) {
    ledger.issues.push({
      code: placed.reason,
      path: "neck.joinFret",
      message: `${placed.detail}.`,
      severity: "stop",
    });
    return { ok: false, issues: [...ledger.issues, ...boardFaults] };
  }
  const top = realisePlate(document, "top", plan.value, ledger);
  const back = realisePlate(document, "back", plan.value, ledger);
  const topFace = top.meanThickness / 2;
  const fingerboard = realiseFingerboard(document, ledger);
  const across = crownsAcross(layout.value, board, fingerboard, ledger);
  const nut = realiseNut(document, ledger);
  const behindSaddle = anchorBehind(document, placed.value, ledger);
  const neck = realiseNeck(document, placed.value, ledger);
  const bridgePlate =
    document.bridgePlate === undefined ? null : realisePatch(document.bridgePlate, "bridgePlate", ledger);
  const rimParts = realiseRimParts(document, plan.value, rods, ledger);
  const solidVolume =
    solidOnPlate(top) +
    solidOnPlate(back) +
    (bridgePlate === null ? 0 : solidOnPlate({ ...top, braces: [], patches: [bridgePlate] })) +
    liningVolume(sides, plan.value) +
    rimParts.reduce((sum, part) => sum + part.volumeInside, 0);

  const build: Build = {
    name: document.name,
    body: { ...body, solidVolume },
    board,
    neck,
    fingerboard,
    nut,
    strings: realiseStrings(document, placed.value, { topFace, across, nut, neck, behindSaddle }, ledger),
    tunings: realiseTunings(document, tuningReference(document), ledger),
    setup: realiseSetup(document, ledger),
    tuningReference: tuningReference(document),
    top,
    back,
    holeWall: holeWall(document, top.meanThickness),
    holeLip: holeLip(document),
    bridge: realiseBridge(document, placed.value, behindSaddle, ledger),
    bridgePlate,
    saddle: realiseSaddle(document, placed.value, neck, nut, plan.value.length, topFace, across),
    sides,
    rimParts,
    rods,
    climate: {
      shop: climateOf(document.climate.shop),
      homeDry: climateOf(document.climate.homeDry),
      homeDamp: climateOf(document.climate.homeDamp),
      hotCar: realiseHotCar(document, ledger),
    },
    targets: realiseTargets(document.targets),
    meant: document.meant ?? [],
    pluckPlace: document.strings.pluckPlace === undefined ? null : metres(document.strings.pluckPlace),
    uncertain: ledger.uncertain,
    assumed: ledger.assumed,
    species: ledger.species,
  };
  const finished: BodyPlan = { ...plan.value, netVolume: plan.value.grossVolume - solidVolume };
  const issues = [...ledger.issues, ...fitIssues(document, build, finished)];
  if (finished.netVolume <= 0) {
    issues.push({
      code: "depth",
      path: "sides",
      message: "Braces, linings and blocks fill the box: no air is left.",
      severity: "stop",
    });
  }
  const stops = issues.filter(({ severity }) => severity === "stop");
  if (stops.length > 0) return { ok: false, issues: stops };
  const watch: Issue[] = [
    ...issues,
    ...plan.warnings.map(
      ({ code, detail }): Issue => ({
        code,
        path: "outline",
        message: `${inMillimetres(detail)}.`,
        severity: "watch",
      }),
    ),
  ];
  return { ok: true, build, plan: finished, watch };
}

function realiseBody(document: InstrumentDocument): BodySpec {
  const { outline, cutaway, soundHole, top, back, sides } = document;
  const silent: Ledger = { uncertain: [], assumed: [], species: [], issues: [] };
  const dome = (entry: typeof top.dome) =>
    entry === undefined ? null : { radius: metres(entry.radius), apex: point(entry.apex) };
  const thick = (plate: "top" | "back"): number =>
    realiseThickness(document[plate].thickness, plate, plate, silent).mean;
  return {
    outline: realiseOutline(outline),
    cutaway:
      cutaway === undefined
        ? null
        : {
            side: cutaway.side,
            depth: metres(cutaway.depth),
            tipSetback: metres(cutaway.tipSetback),
            tipRadius: metres(cutaway.tipRadius),
            neckOffset: metres(cutaway.neckOffset),
            neckAngle: radians(cutaway.neckAngle ?? "0 deg"),
            cornerRadius: metres(cutaway.cornerRadius),
            scoopRadius: cutaway.scoopRadius === undefined ? null : metres(cutaway.scoopRadius),
          },
    hole:
      soundHole.kind === "curve"
        ? { kind: "curve", points: points(soundHole.points) }
        : {
            kind: "ellipse",
            centre: point(soundHole.centre),
            semiAxes: [metres(soundHole.semiAxes[0]), metres(soundHole.semiAxes[1])],
            angle: radians(soundHole.angle ?? "0 deg"),
          },
    topDome: dome(top.dome),
    backDome: dome(back.dome),
    depthAtTail: metres(sides.depthAtTail),
    depthAtNeck: metres(sides.depthAtNeck),
    topThickness: thick("top"),
    backThickness: thick("back"),
    sideThickness: metres(typeof sides.thickness === "string" ? sides.thickness : sides.thickness.value),
    hand: document.hand,
  };
}

type Dimensions = Extract<InstrumentDocument["outline"], { kind: "dimensions" }>;
type Shift = NonNullable<NonNullable<NonNullable<Dimensions["asymmetry"]>["bass"]>["waist"]>;

function realiseOutline(outline: InstrumentDocument["outline"]): OutlineSpec {
  if (outline.kind === "points") return { kind: "points", points: points(outline.points) };
  const at = (entry: Dimensions["waist"]) => ({ width: metres(entry.width), station: metres(entry.station) });
  const shift = (entry: Shift) => ({
    along: metres(entry.along ?? "0 mm"),
    outward: metres(entry.outward ?? "0 mm"),
  });
  const side = (entry: NonNullable<Dimensions["asymmetry"]>["bass"]) =>
    entry === undefined
      ? {}
      : {
          ...(entry.lowerBout === undefined ? {} : { lowerBout: shift(entry.lowerBout) }),
          ...(entry.waist === undefined ? {} : { waist: shift(entry.waist) }),
          ...(entry.upperBout === undefined ? {} : { upperBout: shift(entry.upperBout) }),
        };
  return {
    kind: "dimensions",
    length: metres(outline.length),
    lowerBout: at(outline.lowerBout),
    waist: at(outline.waist),
    upperBout: at(outline.upperBout),
    tailRadius: outline.tailRadius === undefined ? null : metres(outline.tailRadius),
    neckRadius: outline.neckRadius === undefined ? null : metres(outline.neckRadius),
    ...(outline.asymmetry === undefined
      ? {}
      : { asymmetry: { bass: side(outline.asymmetry.bass), treble: side(outline.asymmetry.treble) } }),
  };
}

function climateOf(entry: InstrumentDocument["climate"]["shop"]) {
  return {
    temperature: si(entry.temperature, "temperature"),
    relativeHumidity: si(entry.humidity, "humidity"),
  };
}

/** Air of 28 C and 50 %RH shut up in a car and heated to 60 C has about 10 %RH. */
function realiseHotCar({ climate: { hotCar } }: InstrumentDocument, ledger: Ledger): BuildClimate {
  return {
    temperature: orUsual(hotCar?.temperature, "temperature", "60 C", "climate.hotCar.temperature", ledger),
    relativeHumidity: orUsual(hotCar?.humidity, "humidity", "10 %RH", "climate.hotCar.humidity", ledger),
  };
}

function realiseTargets(targets: InstrumentDocument["targets"]): BuildTargets {
  const range = (
    entry: { low?: string | undefined; high?: string | undefined } | undefined,
    kind: "frequency" | "mass" | "angle",
  ): TargetRange | null =>
    entry === undefined
      ? null
      : {
          low: entry.low === undefined ? null : si(entry.low, kind),
          high: entry.high === undefined ? null : si(entry.high, kind),
        };
  return {
    mainAir: range(targets?.mainAir, "frequency"),
    mainTop: range(targets?.mainTop, "frequency"),
    mainBack: range(targets?.mainBack, "frequency"),
    mass: range(targets?.mass, "mass"),
    bridgeRotation: range(targets?.bridgeRotation, "angle"),
    levelSpreadDb:
      targets?.levelSpreadDb === undefined ? null : { low: null, high: targets.levelSpreadDb.high },
  };
}

function holeLip(document: InstrumentDocument): Build["holeLip"] {
  const { lip } = document.soundHole;
  if (lip === undefined) return null;
  return { thickness: metres(lip.thickness), swell: lip.swell === undefined ? null : metres(lip.swell) };
}

/** A lip that swells between its thin ends is taken at the mean of both thicknesses. */
function holeWall(document: InstrumentDocument, topThickness: number): number {
  const { lip } = document.soundHole;
  if (lip === undefined) return topThickness;
  const edge = metres(lip.thickness);
  return lip.swell === undefined ? edge : (edge + metres(lip.swell)) / 2;
}
