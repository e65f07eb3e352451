import type { Build } from "#engine/instrument";
import { defaultRender } from "#engine/notes";
import { type Piece, type PieceKind, piece } from "#engine/pipeline";
import { nearestNote, noteFrequency } from "#engine/strings";
import type { Fault } from "./answer.ts";

/** What may be asked of `fairbout play`. */
export interface PlayOptions {
  readonly json?: boolean;
  readonly out?: string;
  readonly note?: string;
  readonly string?: string;
  readonly fret?: string;
  readonly scale?: boolean;
  readonly chord?: boolean;
  readonly phrase?: boolean;
  readonly float?: boolean;
}

type Single = "note" | "string and fret";
const askedKinds = (o: PlayOptions): readonly (PieceKind | Single)[] => [
  ...(o.scale ? (["scale"] as const) : []),
  ...(o.chord ? (["chord"] as const) : []),
  ...(o.phrase ? (["phrase"] as const) : []),
  ...(o.note === undefined ? [] : (["note"] as const)),
  ...(o.string === undefined && o.fret === undefined ? [] : (["string and fret"] as const)),
];

/** What is wrong with the options before any instrument is read, or null. */
export function optionFault(options: PlayOptions): Fault | null {
  const { out } = options;
  const asked = askedKinds(options);
  if (asked.length !== 1)
    return {
      path: asked.length === 0 ? "--note" : "",
      message:
        asked.length === 0 ? "Say what to play." : `Say one thing to play, not ${asked.join(" and ")}.`,
      allowed: "--note NAME, --string N --fret N, --scale, --chord or --phrase",
      example: "--note D3 --out d3.wav",
    };
  if (out === undefined || !/\.wav$/i.test(out))
    return {
      path: "--out",
      message:
        out === undefined
          ? "No loudspeaker is used: say which file to write."
          : "The file's name must end in .wav.",
      ...(out === undefined ? {} : { found: out }),
      example: "--out note.wav",
    };
  return null;
}

/** What is to be played on this instrument, or why it cannot be. */
export function askedPiece(build: Build, options: PlayOptions): Piece | Fault {
  const kind = askedKinds(options)[0]!;
  if (kind === "scale" || kind === "chord" || kind === "phrase") return piece(build, kind);
  const place = kind === "note" ? placeOfNote(build, options.note!) : placeOfFret(build, options);
  if ("message" in place) return place;
  const { seconds } = defaultRender;
  return { kind: "note", notes: [{ ...place, onset: 0, stop: null, strength: 1 }], seconds };
}

function placeOfFret(build: Build, { string: s, fret: f = "0" }: PlayOptions): Place | Fault {
  const strings = build.strings.length;
  const { frets } = build.board;
  if (s === undefined || !/^\d+$/.test(s) || Number(s) < 1 || Number(s) > strings)
    return {
      path: "--string",
      message: "There is no such string.",
      found: s ?? "nothing",
      allowed: `1 to ${strings}`,
    };
  if (!/^\d+$/.test(f) || Number(f) > frets)
    return { path: "--fret", message: "There is no such fret.", found: f, allowed: `0 to ${frets}` };
  return { string: Number(s), fret: Number(f) };
}

type Place = { readonly string: number; readonly fret: number };

/** Where the note has its lowest fret. */
function placeOfNote(build: Build, name: string): Place | Fault {
  const asked = noteFrequency(name, build.tuningReference);
  if (!asked.ok) return { path: "--note", message: `${asked.detail}.`, found: name, example: "--note D3" };
  const note = nearestNote(asked.value, build.tuningReference);
  const { frets } = build.board;
  const places = build.strings
    .map(({ string, frequency }) => ({ string, fret: note - nearestNote(frequency, build.tuningReference) }))
    .filter(({ fret }) => fret >= 0 && fret <= frets)
    .sort((a, b) => a.fret - b.fret);
  return (
    places[0] ?? {
      path: "--note",
      message: `${build.name} has no ${name} on its board.`,
      found: name,
      allowed: `${build.strings.map(({ string, note: open }) => `string ${string} from ${open}`).join(", ")}, each to fret ${frets}`,
    }
  );
}
