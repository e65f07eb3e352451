import type { SetupCardsView, SlotCardsView } from "#engine/drawings";
import type { Build } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import { drawnBoard, handTurn, subtitle } from "./drawnInstrument.ts";
import type { InstrumentGeometry } from "./geometry.ts";
import type { SetupReport } from "./setup/setupReport.ts";
import { cutsReport } from "./slotCuts.ts";
import type { SlotsReport } from "./slots.ts";

/** What the cards of board, bridge and saddle show, from the report of `slots`. Fails as `cutsReport` does. */
export function slotCardsView(
  build: Build,
  geometry: InstrumentGeometry,
  report: SlotsReport,
): Outcome<SlotCardsView> {
  const cuts = cutsReport(build, geometry);
  if (!cuts.ok) return cuts;
  const { slotWidthM, slotDepthM, frets, wireInAllM, stringsAcross, bridge } = cuts.value;
  return done({
    title: build.name,
    subtitle: subtitle(build),
    hand: build.body.hand,
    stamp: report.stamp,
    board: drawnBoard(build, geometry),
    bridge: handTurn(build)(build.bridge.polygon),
    slotWidth: slotWidthM,
    slotDepth: slotDepthM,
    frets: frets.map((f, i) => ({
      fret: f.fret,
      bassEdge: f.bassEdgeM,
      trebleEdge: f.trebleEdgeM,
      lowestString: f.lowestStringM,
      highestString: f.highestStringM,
      angleDeg: report.slots[i]!.angleDeg,
      nutBassToTreble: f.fromNutBassToTrebleM,
      nutTrebleToBass: f.fromNutTrebleToBassM,
      slot: f.slotM,
      wire: f.wireM,
      tang: f.tangM,
    })),
    wireInAll: wireInAllM,
    strings: report.strings.map((s, i) => ({
      string: s.string,
      note: build.strings[i]!.note,
      scaleLength: s.scaleLengthM,
      acrossNut: stringsAcross[i]!.fromBassEdgeAtNutM,
      acrossSaddle: stringsAcross[i]!.fromLowestAtSaddleM,
      saddleOffset: s.saddleOffsetM,
    })),
    saddleLine: {
      lowest: bridge.lowestM,
      highest: bridge.highestM,
      lowestNutToHighest: bridge.fromLowestNutToHighestM,
      highestNutToLowest: bridge.fromHighestNutToLowestM,
    },
  });
}

/** What the cards of the setup show, from the report of `setup`. */
export function setupCardsView(build: Build, report: SetupReport): SetupCardsView {
  const { neck, saddle, strings } = report;
  const treble = strings[0]!;
  const bass = strings[strings.length - 1]!;
  const least = strings.reduce((a, b) => (b.breakAngleDeg < a.breakAngleDeg ? b : a));
  const greatest = strings.reduce((a, b) => (b.breakAngleDeg > a.breakAngleDeg ? b : a));
  return {
    title: build.name,
    subtitle: subtitle(build),
    hand: build.body.hand,
    stamp: report.stamp,
    relief: neck.reliefM,
    nutBass: bass.actionM[0]!,
    nutTreble: treble.actionM[0]!,
    actionBass: bass.actionM[12]!,
    actionTreble: treble.actionM[12]!,
    saddleBass: saddle.bassAskedM,
    saddleTreble: saddle.trebleAskedM,
    straightedge: neck.straightedgeOverBridgeM,
    breakAngleDeg: {
      least: least.breakAngleDeg,
      leastString: least.string,
      greatest: greatest.breakAngleDeg,
      greatestString: greatest.string,
    },
  };
}
