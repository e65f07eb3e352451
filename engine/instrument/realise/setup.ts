import type { BuildNut, BuildSetup, MeasuredCents } from "../buildSetup.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { commonPractice, type Ledger, orUsual } from "./reading.ts";

export function realiseNut({ nut }: InstrumentDocument, ledger: Ledger): BuildNut {
  if (nut?.material === undefined)
    ledger.assumed.push({ path: "nut.material", value: "bone", because: commonPractice });
  const clearance = (side: "bass" | "treble"): number =>
    orUsual(nut?.clearance?.[side], "length", "0.4 mm", `nut.clearance.${side}`, ledger);
  return {
    material: nut?.material ?? "bone",
    width: orUsual(nut?.width, "length", "5 mm", "nut.width", ledger),
    clearanceBass: clearance("bass"),
    clearanceTreble: clearance("treble"),
  };
}

/** Share of the way to the next crown back beyond which no finger presses: common practice, no source. */
const halfWay = 0.5;

export function realiseSetup({ setup, fingerboard }: InstrumentDocument, ledger: Ledger): BuildSetup {
  const pluck = (how: "soft" | "normal" | "hard", usual: string): number =>
    orUsual(setup?.pluck?.[how], "length", usual, `setup.pluck.${how}`, ledger);
  const finger = setup?.finger;
  if (setup?.weights === undefined)
    ledger.assumed.push({
      path: "setup.weights",
      value: "1 up to fret 12, 0.5 beyond",
      because: commonPractice,
    });
  return {
    pluck: {
      soft: pluck("soft", "0.7 mm"),
      normal: pluck("normal", "1.5 mm"),
      hard: pluck("hard", "2.5 mm"),
    },
    finger: {
      behind: {
        kind: "share",
        share: halfWay,
        most: orUsual(finger?.behind, "length", "12 mm", "setup.finger.behind", ledger),
      },
      depth: orUsual(finger?.depth, "length", "0.2 mm", "setup.finger.depth", ledger),
    },
    measured: realiseMeasured(setup?.measured ?? [], ledger),
    weights: setup?.weights ?? Array.from({ length: fingerboard.frets }, (_, i) => (i < 12 ? 1 : 0.5)),
  };
}

type Readings = NonNullable<NonNullable<InstrumentDocument["setup"]>["measured"]>;

function realiseMeasured(readings: Readings, ledger: Ledger): MeasuredCents[] {
  return readings.map(({ string, fret, cents, spread, how }, i) => {
    const documentPath = `setup.measured[${i}]`;
    if (spread === undefined)
      ledger.assumed.push({ path: `${documentPath}.spread`, value: "1 cent", because: commonPractice });
    return { documentPath, string, fret, cents, spread: spread ?? 1, how };
  });
}
