import type { BoardLayout, BoardSpec } from "#engine/geometry";
import { designString, noteFrequency, type StringConstruction } from "#engine/strings";
import type { BuildString } from "../build.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { type Ledger, metres, si, type Typed, uncertain, usualSpread } from "./reading.ts";

type StringEntry = InstrumentDocument["strings"]["set"][number];

/** The board as geometry lays it out. */
export function realiseBoard(document: InstrumentDocument): BoardSpec {
  const { strings, fingerboard } = document;
  const { scale } = strings;
  const parallel = scale.kind === "parallel";
  return {
    strings: strings.set.length,
    bassScale: metres(parallel ? scale.length : scale.bass),
    trebleScale: metres(parallel ? scale.length : scale.treble),
    squareFret: parallel ? 0 : scale.squareFret,
    frets: fingerboard.frets,
    nutWidth: metres(fingerboard.widthAtNut),
    endWidth: metres(fingerboard.widthAtEnd),
    endStation: null,
    stringSpreadNut: metres(strings.spreadAtNut),
    stringSpreadSaddle: metres(strings.spreadAtSaddle),
    temperament:
      fingerboard.centsTable === undefined
        ? { kind: "equal" }
        : { kind: "cents", cents: fingerboard.centsTable },
  };
}

/** Frequency of A4 the document is tuned to, Hz. */
export function tuningReference(document: InstrumentDocument): number {
  return si(document.strings.tuningReference ?? "440 Hz", "frequency");
}

/** The strings on the board (body frame); `topFace` is the top's outside face over its mid-surface, m. */
export function realiseStrings(
  document: InstrumentDocument,
  board: BoardLayout,
  topFace: number,
  ledger: Ledger,
): BuildString[] {
  const { strings, saddle } = document;
  const a4 = tuningReference(document);
  const last = strings.set.length - 1;
  const between = (treble: string, bass: string, i: number): number =>
    metres(treble) + ((metres(bass) - metres(treble)) * i) / last;
  return strings.set.flatMap((entry, i): BuildString[] => {
    const path = `strings.set[${i}]`;
    const frequency = noteFrequency(entry.note, a4);
    if (!frequency.ok) {
      ledger.issues.push({
        code: frequency.reason,
        path: `${path}.note`,
        message: `${frequency.detail}.`,
        found: JSON.stringify(entry.note),
        allowed: "a letter, # or b, and an octave",
        example: '"E4"',
        severity: "stop",
      });
    }
    const construction = realiseConstruction(entry);
    const given = (
      typed: StringEntry["unitWeight"],
      kind: "linearDensity" | "force",
      usual: number,
      key: "unitWeight" | "breakingForce",
    ): number | null =>
      typed === undefined
        ? null
        : uncertain(
            typed as Typed<string>,
            kind,
            usual,
            `${path}.${key}`,
            `strings[${i}].${key === "unitWeight" ? "givenLinearDensity" : "givenBreakingForce"}`,
            ledger,
          );
    const givenLinearDensity = given(entry.unitWeight, "linearDensity", usualSpread.unitWeight, "unitWeight");
    const givenBreakingForce = given(
      entry.breakingForce,
      "force",
      usualSpread.breakingForce,
      "breakingForce",
    );
    const design = designString(construction, {
      ...(givenLinearDensity === null ? {} : { linearDensity: givenLinearDensity }),
      ...(givenBreakingForce === null ? {} : { breakingForce: givenBreakingForce }),
    });
    if (!design.ok)
      ledger.issues.push({
        code: design.reason,
        path: `${path}.construction`,
        message: `String ${i + 1}: ${design.detail}.`,
        severity: "stop",
      });
    const line = board.strings[i];
    if (line === undefined || !frequency.ok || !design.ok) return [];
    const [dx, dy] = [line.nut[0] - line.saddle[0], line.nut[1] - line.saddle[1]];
    const run = Math.hypot(dx, dy);
    return [
      {
        string: i + 1,
        note: entry.note,
        frequency: frequency.value,
        construction,
        givenLinearDensity,
        givenBreakingForce,
        scaleLength: line.scaleLength,
        crown: [line.saddle[0], line.saddle[1], between(saddle.heightTreble, saddle.heightBass, i) + topFace],
        action: between(strings.action.treble, strings.action.bass, i),
        direction: [dx / run, dy / run],
        nut: line.nut,
      },
    ];
  });
}

function realiseConstruction({ construction }: StringEntry): StringConstruction {
  if (construction.kind === "plain")
    return { kind: "plain", diameter: metres(construction.diameter), material: construction.material };
  return {
    kind: "wound",
    coreDiameter: metres(construction.core),
    coreShape: construction.coreShape,
    ...(construction.coreMaterial === undefined ? {} : { coreMaterial: construction.coreMaterial }),
    wraps: construction.wraps.map((wrap) => ({ diameter: metres(wrap.diameter), material: wrap.material })),
  };
}
