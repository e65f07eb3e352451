/** Numbers put into words: rounded to what the model can know, always with the unit a maker uses. */
import { nearestNote as nearestNumber, noteName, pitchOf } from "#engine/strings";
import { formatQuantity } from "#engine/units";

/** "73 kgf (712 N)" from newtons: force as a maker feels it, beside the SI figure. */
export function sayForce(newtons: number): string {
  return `${formatQuantity(newtons, "kgf", 0)} (${formatQuantity(newtons, "N", 0)})`;
}

/** "12.4 mm" from metres. */
export function sayLength(metres: number, places = 1): string {
  return formatQuantity(metres, "mm", places);
}

/** "1.4 degrees" from radians. */
export function sayAngle(radians: number): string {
  return formatQuantity(radians, "degrees", 1);
}

/** "92 Hz (F#2 -8 cents)": the frequency and its place among the notes. */
export function sayPitch(frequency: number, a4 = 440): string {
  const { note, cents } = nearestNote(frequency, a4);
  const off = cents === 0 ? "" : ` ${cents > 0 ? "+" : "-"}${Math.abs(cents)} cents`;
  return `${sayFrequency(frequency)} (${note}${off})`;
}

/** "92 Hz", "1.24 kHz": three figures at most. */
export function sayFrequency(frequency: number): string {
  return frequency >= 1000 ? `${(frequency / 1000).toFixed(2)} kHz` : `${frequency.toFixed(0)} Hz`;
}

/** "1 note", "3 notes". */
export function sayCount(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}

/** "a", "a and b", "a, b and 4 more". */
export function sayList(items: readonly string[], most: number): string {
  const shown = items.slice(0, most);
  const left = items.length - shown.length;
  if (left > 0) return `${shown.join(", ")} and ${left} more`;
  if (shown.length < 2) return shown.join("");
  return `${shown.slice(0, -1).join(", ")} and ${shown[shown.length - 1]}`;
}

/** Interval from `from` to `to` in cents (ISO 16: 1200 to the octave). */
export function centsBetween(from: number, to: number): number {
  return 1200 * Math.log2(to / from);
}

/** Nearest tempered note (A4 = 440 Hz unless the instrument is tuned otherwise, ISO 16) and the whole cents by which the frequency lies above it. */
export function nearestNote(frequency: number, a4 = 440): { readonly note: string; readonly cents: number } {
  const number = nearestNumber(frequency, a4);
  return { note: noteName(number), cents: Math.round(centsBetween(pitchOf(number, a4), frequency)) };
}
