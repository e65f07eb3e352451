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
