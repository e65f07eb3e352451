import { type BoardLayout, type BoardSpec, heightsUnderStrings } from "#engine/geometry";
import { formatQuantity } from "#engine/units";
import type { BuildFingerboard } from "../buildSetup.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { type Ledger, metres, orUsual } from "./reading.ts";

/** Slot below the tang's end, m: common practice, no source. */
const belowTang = 0.5e-3;

/** Cross curve, fall-away and slots of the board. */
export function realiseFingerboard({ fingerboard }: InstrumentDocument, ledger: Ledger): BuildFingerboard {
  const { radius, fallAway, slot = {} } = fingerboard;
  const usual = (key: keyof typeof slot, value: string): number =>
    orUsual(slot[key], "length", value, `fingerboard.slot.${key}`, ledger);
  const tangDepth = usual("tangDepth", "1.6 mm");
  return {
    radius: radius.kind === "flat" ? null : { nut: metres(radius.nut), end: metres(radius.end) },
    fallAway: fallAway === undefined ? null : { fromFret: fallAway.fromFret, depth: metres(fallAway.depth) },
    fretWidth: orUsual(fingerboard.fretWidth, "length", "2.2 mm", "fingerboard.fretWidth", ledger),
    slot: {
      width: usual("width", "0.58 mm"),
      depth: usual("depth", formatQuantity(tangDepth + belowTang, "mm", 2)),
      tangWidth: usual("tangWidth", "0.53 mm"),
      tangDepth,
      nip: usual("nip", "0 mm"),
      overhang: usual("overhang", "0 mm"),
    },
  };
}

/**
 * How far the board's cross curve, carried on to the saddle, falls under each string, m (string 1 first, negative beside
 * the middle). A radius that does not cover the strings is an issue of the ledger, and counts as flat.
 */
export function crownsAcross(
  layout: BoardLayout,
  board: BoardSpec,
  shape: BuildFingerboard,
  ledger: Ledger,
): readonly number[] {
  const heights = heightsUnderStrings(layout, board, { radius: shape.radius, fallAway: null }, 0);
  if (heights.ok) return heights.value.map((h) => h.crownAtSaddle);
  ledger.issues.push({
    code: heights.reason,
    path: "fingerboard.radius",
    message: `${heights.detail}.`,
    severity: "stop",
  });
  return layout.strings.map(() => 0);
}
