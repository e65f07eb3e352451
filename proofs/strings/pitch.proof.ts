import { opened } from "#engine/numerics";
import { nearestNote, noteFrequency, noteName, pitchOf } from "#engine/strings";
import { proof } from "#proofs/harness";
import { checkValue } from "./checkValue.ts";

const midi = checkValue<Record<string, number>>("tune.midi");
const notes = Object.keys(midi.value).map(Number);

proof(
  "tempered pitch of the open strings and middle C, Hz",
  {
    source: midi.source,
    quoted: Object.values(midi.value),
    absTol: 6e-5,
    because: "the quoted digits end at 1e-4 Hz",
    mustNotice: { semitone: 1.0001, reference: 1.00001 },
  },
  (slip) =>
    notes.map((n) => pitchOf(69 + (n - 69) * (slip["semitone"] ?? 1), 440 * (slip["reference"] ?? 1))),
);

proof(
  "named notes find the same pitches and names",
  {
    source: midi.source,
    quoted: Object.values(midi.value),
    absTol: 6e-5,
    because: "the quoted digits end at 1e-4 Hz",
    mustNotice: { reference: 1.00001 },
  },
  (slip) => notes.map((n) => opened(noteFrequency(noteName(n), 440 * (slip["reference"] ?? 1)))),
);

proof(
  "a cent is the 1200th part of an octave: note number of a fifth above A4",
  {
    source: "CENTS",
    quoted: [76, 76],
    absTol: 1e-9,
    because: "701.955 cents round to seven semitones; an integer",
    mustNotice: { fifth: 1.1 },
  },
  (slip) => [
    nearestNote(440 * 1.5 * (slip["fifth"] ?? 1)),
    nearestNote(432 * 1.5 * (slip["fifth"] ?? 1), 432),
  ],
);
