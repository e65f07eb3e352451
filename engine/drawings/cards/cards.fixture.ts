/** Cards of the guitar made up for the tests (drawnGuitar.fixture.ts): its own layout, invented heights. It never leaves the tests. */
import type { Point } from "#engine/geometry";
import { drawnPlan, placedBoard } from "../drawnGuitar.fixture.ts";
import { fabricatedView } from "../voiceView.fixture.ts";
import type { SetupCardsView, SlotCardsView } from "./cardView.ts";

const apart = (a: Point, b: Point) => Math.hypot(b[0] - a[0], b[1] - a[1]);

export function fabricatedSlotCards(hand: "right" | "left" = "right"): SlotCardsView {
  const { title, subtitle, stamp, load } = fabricatedView();
  const board = placedBoard(hand === "left");
  const { bass, treble } = board.nutLine;
  const highest = board.strings[0];
  const lowest = board.strings[board.strings.length - 1];
  const bridge = drawnPlan().bridge;
  return {
    title,
    subtitle,
    hand,
    stamp,
    board,
    bridge: hand === "left" ? bridge.map((v, i) => (i % 2 === 0 ? v : -v)) : bridge,
    slotWidth: 5.8e-4,
    slotDepth: 2.1e-3,
    frets: board.slots.map((slot) => ({
      fret: slot.fret,
      bassEdge: apart(bass, slot.bass),
      trebleEdge: apart(treble, slot.treble),
      lowestString: lowest.fretDistance[slot.fret],
      highestString: highest.fretDistance[slot.fret],
      angleDeg: (slot.angle * 180) / Math.PI,
      nutBassToTreble: apart(bass, slot.treble),
      nutTrebleToBass: apart(treble, slot.bass),
      slot: slot.length,
      wire: slot.length + 1e-4,
      tang: slot.length - 2.3e-3,
    })),
    wireInAll: board.slots.reduce((sum, slot) => sum + slot.length + 1e-4, 0),
    strings: board.strings.map((s, i) => ({
      string: s.string,
      note: load.strings[i].note,
      scaleLength: s.scaleLength,
      acrossNut: apart(bass, s.nut),
      acrossSaddle: apart(lowest.saddle, s.saddle),
      saddleOffset: i === 3 ? null : 0.0021 + 6e-4 * i,
    })),
    saddleLine: {
      lowest: lowest.scaleLength,
      highest: highest.scaleLength,
      lowestNutToHighest: apart(lowest.nut, highest.saddle),
      highestNutToLowest: apart(highest.nut, lowest.saddle),
    },
  };
}

export function fabricatedSetupCards(hand: "right" | "left" = "right"): SetupCardsView {
  const { title, subtitle, stamp } = fabricatedView();
  return {
    title,
    subtitle,
    hand,
    stamp,
    relief: 1.5e-4,
    nutBass: 4.3e-4,
    nutTreble: 3.8e-4,
    actionBass: 2.4e-3,
    actionTreble: 1.85e-3,
    saddleBass: 0.01362,
    saddleTreble: 0.01234,
    straightedge: -2.4e-4,
    breakAngleDeg: { least: 16.6, leastString: 1, greatest: 23.4, greatestString: 5 },
  };
}
