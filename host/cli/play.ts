import { basename, dirname } from "node:path";
import { boardPluck, commonGain, loudest, loudnessLimits, type NoteTones } from "#engine/notes";
import {
  computeVoice,
  defaultBodySettings,
  noteTones,
  type Piece,
  type RenderedPiece,
  renderPiece,
  type SoundingBody,
  soundingBody,
} from "#engine/pipeline";
import { wavBytes } from "#engine/signals";
import { type Answer, type Fault, good, outFault, refusal, writeInto } from "./answer.ts";
import { engineFault } from "./engineFault.ts";
import type { Hands } from "./hands.ts";
import type { OpenInstrument } from "./instrument.ts";
import { askedPiece, optionFault, type PlayOptions } from "./playAsked.ts";
import { terminalProgress } from "./progress.ts";
import { hertz, table, wrapped } from "./text.ts";

const promise =
  "What to listen for is the difference between two designs, played with the same pluck and the same gain. It is the sound of the " +
  "computed body 1 m in front of the top in open air: not a player's hands, not a room, and not what a small loudspeaker lets through " +
  "(it gives next to nothing under 200 Hz: use headphones or a full loudspeaker, and begin quietly).";

/** What one instrument plays, and how it came out. */
interface Played {
  readonly instrument: string;
  readonly body: SoundingBody;
  readonly piece: Piece;
  readonly rendered: RenderedPiece;
  readonly tones: readonly NoteTones[];
}

/** `fairbout play`: a note, scale, chord or phrase as WAV files, one for each instrument, at one pluck and one gain. */
export async function play(
  instruments: readonly OpenInstrument[],
  options: PlayOptions,
  hands: Hands,
): Promise<Answer> {
  const { json = false, out, float = false } = options;
  const { path, build } = instruments[0]!;
  const fault = optionFault(options);
  if (fault !== null) return refusal(path, [fault], json);
  const folder = dirname(out!);
  const barred = outFault(folder);
  if (barred !== null) return refusal(out!, [{ path: "--out", message: barred }], json);
  for (const { build: own, path: place } of instruments) {
    const asked = askedPiece(own, options);
    if ("message" in asked) return refusal(place, [asked], json);
  }
  const progress = terminalProgress(process.stderr);
  const played: Played[] = [];
  for (const { build: own, geometry, strings, path: place } of instruments) {
    const voice = await computeVoice(own, geometry, strings, hands, defaultBodySettings, progress);
    if (!voice.ok) {
      progress.end();
      return refusal(place, [engineFault(voice)], json);
    }
    const one = playOn(soundingBody(voice.value), askedPiece(own, options) as Piece);
    if ("message" in one) {
      progress.end();
      return refusal(place, [one], json);
    }
    played.push(one);
  }
  progress.end();
  const { rate } = played[0]!.rendered;
  const gain = commonGain(
    played.map(({ rendered }) => rendered.samples),
    rate,
  );
  const names = [basename(out!), basename(out!).replace(/\.wav$/i, "-beside.wav")];
  const told = played.map((one, k) => outcomeOf(one, names[k]!, gain.gain));
  const files = Object.fromEntries(
    told.map(({ file, samples }) => [file, wavBytes(samples, rate, float ? "float32" : "pcm16")]),
  );
  const refused = writeInto(folder, files);
  if (refused !== null) return refusal(out!, [{ path: "--out", message: refused }], json);
  const result = {
    piece: played[0]!.piece.kind,
    pluck: { forceN: boardPluck.force, angleDeg: 45, fromCrownM: played[0]!.tones[0]!.pluck.fromCrown },
    rate,
    format: float ? "32-bit float" : "16-bit PCM",
    fullScalePa: 1 / gain.gain,
    gainReducedDb: gain.reducedDb,
    files: told.map(({ samples: _, ...rest }) => rest),
    promise,
  };
  return good(json ? JSON.stringify(result, null, 2) : playText(build.name, result));
}

function playOn(body: SoundingBody, asked: Piece): Played | Fault {
  const known = new Map<string, NoteTones | null>();
  const reasons: string[] = [];
  const tonesOf = (string: number, fret: number): NoteTones | null => {
    const key = `${string} ${fret}`;
    if (!known.has(key)) {
      const made = noteTones(body, string, fret);
      if (!made.ok) reasons.push(`string ${string}, fret ${fret}: ${made.detail}`);
      known.set(key, made.ok ? made.value : null);
    }
    return known.get(key)!;
  };
  const rendered = renderPiece(asked, tonesOf);
  const tones = [...known.values()].filter((t) => t !== null);
  if (tones.length === 0) return { path: "", message: `Nothing of this is foreseen: ${reasons.join("; ")}.` };
  return { instrument: body.build.name, body, piece: asked, rendered, tones };
}

function outcomeOf({ instrument, piece: asked, rendered, tones }: Played, file: string, gain: number) {
  const samples = rendered.samples.map((p) => gain * p);
  const span = Math.round(loudnessLimits.window * rendered.rate);
  const { peak, rms } = loudest(samples, span);
  return {
    file,
    instrument,
    samples,
    seconds: asked.seconds,
    peakDb: 20 * Math.log10(peak),
    loudestDb: 20 * Math.log10(rms),
    foreseenToHz: tones[0]!.foreseenTo,
    notes: tones.map((t) => ({
      string: t.string,
      fret: t.fret,
      note: t.note,
      frequencyHz: t.frequency,
      levelDb: t.levelDb,
      tones: t.count,
      partials: new Set(t.partial.filter((n) => n > 0)).size,
    })),
    leftOut: rendered.leftOut.map((k) => {
      const { string, fret } = asked.notes[k]!;
      return { string, fret };
    }),
  };
}

interface PlayResult {
  readonly piece: Piece["kind"];
  readonly pluck: { readonly forceN: number; readonly fromCrownM: number };
  readonly rate: number;
  readonly format: string;
  readonly fullScalePa: number;
  readonly gainReducedDb: number;
  readonly files: readonly Omit<ReturnType<typeof outcomeOf>, "samples">[];
}

function playText(name: string, result: PlayResult): string {
  const { forceN, fromCrownM } = result.pluck;
  const rows = result.files.flatMap((f) =>
    f.notes.map((n) => [
      f.file,
      n.note,
      `string ${n.string}`,
      n.fret === 0 ? "open" : `fret ${n.fret}`,
      hertz(n.frequencyHz),
      `${n.levelDb.toFixed(1)} dB`,
      String(n.partials),
      String(n.tones),
    ]),
  );
  const files = result.files.map((f) => [
    f.file,
    f.instrument,
    `${f.seconds.toFixed(1)} s`,
    `${f.peakDb.toFixed(1)} dB`,
    `${f.loudestDb.toFixed(1)} dB`,
    hertz(f.foreseenToHz),
    f.leftOut.length === 0 ? "nothing" : f.leftOut.map((p) => `string ${p.string} fret ${p.fret}`).join(", "),
  ]);
  const limited =
    result.gainReducedDb > 0
      ? ` The limits of loudness took ${result.gainReducedDb.toFixed(1)} dB off, of every file alike.`
      : "";
  return `${name}: ${result.piece}

${table([["file", "instrument", "length", "peak", "loudest 0.3 s", "foreseen to", "left out"], ...files])}

${table([["file", "note", "string", "fret", "pitch", "level at 1 m", "partials", "tones"], ...rows])}

${wrapped(
  `Plucked with ${forceN} N let go ${(1000 * fromCrownM).toFixed(0)} mm from the crown (a quarter of a short string) at 45 degrees. ${result.format} at ${result.rate / 1000} kHz; full scale is ${result.fullScalePa.toFixed(2)} Pa in every file.${limited} What would sound above the frequency foreseen is left out, so it is duller than a guitar.`,
  "  ",
)}

${wrapped(promise, "  ")}
`;
}
