import { type Context, done, failed, type Outcome } from "#engine/numerics";
import { nearestNote, noteName } from "#engine/strings";
import type { NoteBoard, NoteRow } from "./board.ts";
import { anchored } from "./boardAnchor.ts";
import type { BoardString } from "./boardString.ts";
import { bodyCells } from "./bodyCells.ts";
import { type BridgeModes, bridgeModesFault } from "./bridgeModes.ts";
import { farEndFault } from "./coupledAtBothEnds.ts";
import { type BodyPoles, bodyPoles, coarseStep, type SoundTable, soundTable } from "./crownSystem.ts";
import { type EndsBody, endsBody, type FarEnd } from "./endsSystem.ts";
import { evenness, percentile } from "./evenness.ts";
import type { NoteBoardInput } from "./noteBoardInput.ts";
import { pluckFromCrown, type ReadyNote, stoppedString } from "./readyNote.ts";
import { type NoteSound, soundAtBothEnds, soundNote } from "./soundNote.ts";
import { inverseMasses, type WolfRisk, wolfIndex } from "./wolfIndex.ts";

/** Thresholds of the verdict on a note: strong coupling, and half the decay of its neighbours. */
const wolfLimit = 1;
const deadLimit = 2;
/** Neighbours for the dead index, frets. */
const reach = 3;
/** A fundamental this near to a body mode has the wider range of level (relative; one sigma of a mode's frequency). */
const nearMode = 0.05;

interface Note {
  readonly owner: BoardString;
  readonly body: BridgeModes;
  readonly fret: number;
  readonly frequency: number;
  readonly sound: NoteSound;
  readonly wolf: WolfRisk | null;
}

/**
 * Every string at every fret on the body, in the rows of the JSON contract (`noteBoard`, `evenness`), definitions as in
 * physics: pluck 1 N let go at 45 degrees, level over 0.3 s at 1 m, T60 from -5 to -25 dB, wolf and dead index. The
 * string keeps its open tension when stopped: the stretch is what compensation takes out. Fails with "bad-board",
 * "cancelled", or as `coupledString` does.
 */
export function noteBoard(input: NoteBoardInput, ctx: Context): Outcome<NoteBoard> {
  const fault = boardFault(input);
  if (fault !== null) return failed("bad-board", fault);
  const decayValidTo = input.decayValidToHz ?? decayRange(input.bodies);
  const { quick = false } = input;
  const highest = Math.max(input.validToHz, decayValidTo);
  const ready = quick && input.ready?.highest === highest ? input.ready : null;
  const rows: NoteRow[] = [];
  // the strings hear the same body: most often by one and the same table
  const tables = new Map<object, SoundTable>();
  const total = input.strings.length * (input.frets + 1);
  let finished = 0;
  for (const [k, owner] of input.strings.entries()) {
    const notes: Note[] = [];
    const body = input.bodies[k]!;
    const wrong = bridgeModesFault(body);
    if (wrong !== null) return failed("bad-body", wrong);
    const heard = body.sound ?? body.pressure;
    const table = tables.get(heard) ?? soundTable(body, quick ? coarseStep : undefined);
    tables.set(heard, table);
    const met: MetBody = input.farEnds
      ? { body: endsBody(body, table), far: input.farEnds[k]! }
      : { poles: polesFor(body, table, quick ? highest : null) };
    const strengths = inverseMasses(body);
    for (let fret = 0; fret <= input.frets; fret++) {
      if (ctx.cancelled()) return failed("cancelled", "the note board was cancelled");
      const prepared = ready?.notes[k * (input.frets + 1) + fret];
      const made = makeNote(owner, body, met, strengths, fret, input, decayValidTo, prepared);
      if (!made.ok) return made;
      const { sound } = made.value;
      const { anchor } = input;
      notes.push(
        anchor ? { ...made.value, sound: anchored(sound, anchor, k * (input.frets + 1) + fret) } : made.value,
      );
      ctx.progress(++finished / total);
    }
    for (const note of notes) rows.push(noteRow(note, notes, input, decayValidTo));
  }
  return done({
    quick,
    noteBoard: rows,
    evenness: evenness(rows),
    validToHz: input.validToHz,
    decayValidToHz: decayValidTo,
  });
}

function boardFault(input: NoteBoardInput): string | null {
  if (input.strings.length !== input.bodies.length)
    return `${input.strings.length} strings but ${input.bodies.length} views of the body`;
  const { farEnds, anchor } = input;
  const total = input.strings.length * (input.frets + 1);
  if (anchor && !input.quick) return "an anchor was given, but the exact way needs none";
  if (anchor && anchor.level.length !== total)
    return `an anchor of ${anchor.level.length} notes for ${total}`;
  if (farEnds) {
    if (input.quick) return "the quick way takes nut and frets as rigid; far ends were given";
    if (farEnds.length !== input.strings.length)
      return `${input.strings.length} strings but far ends of ${farEnds.length}`;
    for (const [k, ofString] of farEnds.entries()) {
      if (ofString.length <= input.frets)
        return `string ${input.strings[k]!.string} has ${ofString.length} far ends for frets 0 to ${input.frets}`;
      for (const far of ofString) {
        const fault = farEndFault(input.bodies[k]!, far);
        if (fault !== null) return `string ${input.strings[k]!.string}: ${fault}`;
      }
    }
  }
  for (const s of input.strings) {
    if (s.fretDistance.length < input.frets + 1)
      return `string ${s.string} has places for ${s.fretDistance.length - 1} frets; ${input.frets} are asked for`;
    if (!(s.scaleLength > s.fretDistance[input.frets]!))
      return `string ${s.string}: fret ${input.frets} lies at or beyond the saddle`;
    if (!(s.frequency > 0)) return `string ${s.string} has the frequency ${s.frequency}`;
  }
  return null;
}

/** The body's motion is taken as known to 0.8 of its highest mode: nearer the top the modes left out begin to tell. */
function decayRange(bodies: readonly BridgeModes[]): number {
  return 0.8 * Math.min(...bodies.map((b) => Math.max(0, ...b.omega) / (2 * Math.PI)));
}

/** The body as a string meets it: at one end, or at both. */
type MetBody = { readonly poles: BodyPoles } | { readonly body: EndsBody; readonly far: readonly FarEnd[] };

/** `quickTo`: Hz, of the quick way; null: the exact one. */
function polesFor(body: BridgeModes, table: SoundTable, quickTo: number | null): BodyPoles {
  const whole = bodyPoles(body, table);
  return quickTo === null ? whole : { ...whole, cells: bodyCells(whole, quickTo) };
}

function makeNote(
  owner: BoardString,
  body: BridgeModes,
  met: MetBody,
  strengths: Float64Array,
  fret: number,
  { validToHz, meanMobility }: NoteBoardInput,
  decayTo: number,
  ready: ReadyNote | undefined,
): Outcome<Note> {
  const s = stoppedString(owner, fret);
  const { length } = s;
  const mean = meanMobility ?? null;
  const sound =
    "poles" in met
      ? soundNote(s, met.poles, validToHz, decayTo, mean, ready)
      : soundAtBothEnds(s, met.body, met.far[fret]!, validToHz, decayTo, mean);
  if (!sound.ok) return sound;
  const frequency = (owner.frequency * owner.scaleLength) / length;
  const wolf = frequency <= decayTo ? wolfIndex(s, body, pluckFromCrown(length), decayTo, strengths) : null;
  return done({ owner, body, fret, frequency, sound: sound.value, wolf });
}

function noteRow(note: Note, neighbours: readonly Note[], input: NoteBoardInput, decayTo: number): NoteRow {
  const { sound, wolf, fret } = note;
  const dead = deadIndex(note, neighbours);
  const wolfValue = wolf?.index ?? null;
  const bad = (wolfValue ?? 0) >= wolfLimit || (dead ?? 0) >= deadLimit;
  const near = note.body.omega.some((w) => Math.abs(w / (2 * Math.PI * note.frequency) - 1) < nearMode);
  const reasons: string[] = [];
  if (sound.levelDb === null)
    reasons.push(
      note.frequency > input.validToHz
        ? `level: the fundamental lies above ${Math.round(input.validToHz)} Hz, to where the body's sound is foreseen`
        : "level: the body radiates nothing",
    );
  if (sound.decay === null || wolf === null)
    reasons.push(
      note.frequency > decayTo
        ? `decay and wolf: the fundamental lies above ${Math.round(decayTo)} Hz, to where the body's motion is foreseen`
        : "decay: the body radiates nothing",
    );
  return {
    string: note.owner.string,
    fret,
    note: noteName(nearestNote(note.frequency, input.a4)),
    frequencyHz: note.frequency,
    levelDb: sound.levelDb,
    levelDbA: sound.levelDbA,
    levelRangeDb: sound.levelDb === null ? null : near ? 5 : 3,
    decayS: sound.decay,
    decayRangeFactor:
      sound.decay === null ? null : (dead ?? 0) >= deadLimit || note.frequency > 1000 ? 2 : 1.5,
    wolfIndex: wolfValue,
    deadIndex: dead,
    verdict: bad ? "watch" : wolfValue === null || dead === null ? null : "good",
    blame: wolf?.blame ?? null,
    foreseen: reasons.length === 0,
    reason: reasons.length === 0 ? null : reasons.join("; "),
    partials: sound.partials,
  };
}

/** Median decay of the same string within three frets, the note itself left out, over its own decay. */
function deadIndex(note: Note, neighbours: readonly Note[]): number | null {
  if (note.sound.decay === null) return null;
  const others = neighbours
    .filter((n) => n !== note && Math.abs(n.fret - note.fret) <= reach && n.sound.decay !== null)
    .map((n) => n.sound.decay!)
    .sort((a, b) => a - b);
  return others.length === 0 ? null : percentile(others, 0.5) / note.sound.decay;
}
