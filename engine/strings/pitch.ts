import { done, failed, type Outcome } from "#engine/numerics";

const steps: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const names = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"] as const;
const shifts: Readonly<Record<string, number>> = {
  "": 0,
  "#": 1,
  "♯": 1,
  "##": 2,
  "♯♯": 2,
  "𝄪": 2,
  b: -1,
  "♭": -1,
  bb: -2,
  "♭♭": -2,
  "𝄫": -2,
};

/**
 * Number of a note in the scheme where A4 is 69 and C4 is 60, from its scientific name: a capital letter, an accidental
 * (#, b, doubled or not, or the printed signs) and an octave from -1 to 9. The octave belongs to the letter, so B#3 is
 * C4. Reason "not-a-note" if the text is anything else.
 */
export function parseNote(name: string): Outcome<number> {
  const match = /^([A-G])(#{1,2}|b{1,2}|♯{1,2}|♭{1,2}|𝄪|𝄫)?(-1|[0-9])$/u.exec(name);
  if (match === null)
    return failed(
      "not-a-note",
      `"${name}" is not a note; write a letter, # or b, and an octave, like "C#4" or "Bb3"`,
    );
  return done(12 * (Number(match[3]) + 1) + steps[match[1]!]! + shifts[match[2] ?? ""]!);
}

/** Frequency of note number `note` (A4 = 69) in equal temperament: f = a4 2^((note - 69)/12). Hz. Source: ISO16. */
export function pitchOf(note: number, a4 = 440): number {
  return a4 * 2 ** ((note - 69) / 12);
}

/** Frequency of a named note, Hz; the same failure as parseNote. */
export function noteFrequency(name: string, a4 = 440): Outcome<number> {
  const note = parseNote(name);
  return note.ok ? done(pitchOf(note.value, a4)) : note;
}

/** Name of note number `note` (an integer), spelt with sharps: 69 is "A4". */
export function noteName(note: number): string {
  const step = ((note % 12) + 12) % 12;
  return `${names[step]}${Math.floor(note / 12) - 1}`;
}

/** Number of the tempered note nearest to a frequency in Hz. */
export function nearestNote(frequency: number, a4 = 440): number {
  return Math.round(69 + 12 * Math.log2(frequency / a4));
}
