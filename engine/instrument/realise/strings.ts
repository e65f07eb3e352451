import type { BoardLayout, BoardSpec, Point } from "#engine/geometry";
import { designString, type StringConstruction } from "#engine/strings";
import type { BuildNeck, BuildString } from "../build.ts";
import type { BuildNut } from "../buildSetup.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { type Ledger, metres, si, type Typed, uncertain, usualSpread } from "./reading.ts";
import { openFrequency } from "./tunings.ts";

type StringEntry = InstrumentDocument["strings"]["set"][number];

/** A string halved a hundred times: this fret stands at the saddle to the last digit. */
const bridgeFret = 1200;

/** The board as geometry lays it out. */
export function realiseBoard(document: InstrumentDocument): BoardSpec {
  const { strings, fingerboard } = document;
  const { scale } = strings;
  const parallel = scale.kind === "parallel";
  return {
    strings: strings.set.length,
    bassScale: metres(parallel ? scale.length : scale.bass),
    trebleScale: metres(parallel ? scale.length : scale.treble),
    squareFret:
      parallel || scale.squareFret === "nut"
        ? 0
        : scale.squareFret === "bridge"
          ? bridgeFret
          : scale.squareFret,
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
    spacing: {
      nut: strings.spacing?.nut ?? "centres",
      saddle: strings.spacing?.saddle ?? "centres",
      diameters: strings.set.map(diameterOf),
    },
  };
}

/** Outer diameter, m. A string that cannot be made has an issue of its own; its core stands in. */
function diameterOf(entry: StringEntry): number {
  const design = designString(realiseConstruction(entry));
  const { construction } = entry;
  return design.ok
    ? design.value.diameter
    : metres(construction.kind === "plain" ? construction.diameter : construction.core);
}

/** Frequency of A4 the document is tuned to, Hz. */
export function tuningReference(document: InstrumentDocument): number {
  return si(document.strings.tuningReference ?? "440 Hz", "frequency");
}

/**
 * What strings run over and end at, m: `topFace` is the top's outside face over its mid-surface, `across` how far the
 * board's cross curve, carried on to the saddle, falls under each string.
 */
interface StringEnds {
  readonly topFace: number;
  readonly across: ArrayLike<number>;
  readonly nut: BuildNut;
  readonly neck: BuildNeck;
  readonly behindSaddle: number;
}

/** The strings on the board (body frame). */
export function realiseStrings(
  document: InstrumentDocument,
  board: BoardLayout,
  parts: StringEnds,
  ledger: Ledger,
): BuildString[] {
  const { strings, saddle, bridge } = document;
  const a4 = tuningReference(document);
  const last = strings.set.length - 1;
  const { topFace, across, nut, neck, behindSaddle } = parts;
  const between = (treble: number, bass: number, i: number): number => treble + ((bass - treble) * i) / last;
  // the document tells the outer strings' heights; the inner ones stand as the saddle's arch, which is the board's, has it
  const arch = (i: number): number => across[i]! - between(across[0]!, across[last]!, i);
  return strings.set.flatMap((entry, i): BuildString[] => {
    const path = `strings.set[${i}]`;
    const frequency = openFrequency(entry.note, `${path}.note`, a4, ledger.issues);
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
    if (line === undefined || frequency === null || !design.ok) return [];
    const [dx, dy] = [line.nut[0] - line.saddle[0], line.nut[1] - line.saddle[1]];
    const run = Math.hypot(dx, dy);
    return [
      {
        string: i + 1,
        note: entry.note,
        frequency,
        construction,
        givenLinearDensity,
        givenBreakingForce,
        scaleLength: line.scaleLength,
        crown: [
          line.saddle[0],
          line.saddle[1],
          between(metres(saddle.heightTreble), metres(saddle.heightBass), i) + topFace + arch(i),
        ],
        action: between(metres(strings.action.treble), metres(strings.action.bass), i),
        nutClearance: between(nut.clearanceTreble, nut.clearanceBass, i),
        behindNut: lengthBehindNut(neck, line.nut, i),
        behindSaddle: bridge.anchor === "tail" ? line.saddle[0] : behindSaddle,
        direction: [dx / run, dy / run],
        nut: line.nut,
      },
    ];
  });
}

function lengthBehindNut({ head }: BuildNeck, nut: Point, i: number): number {
  const [along, aside] = head.posts[i] ?? [Number.NaN, Number.NaN];
  return Math.hypot(along, aside - nut[1]);
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
