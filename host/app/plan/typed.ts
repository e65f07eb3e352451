import { formatQuantity, inUnit, parseQuantity } from "#engine/units";

/** What the maker writes lengths in. */
export type Units = "metric" | "inch";

/** An inch is divided so finely where a length is read off a rule. */
const inchParts = 32;

/** A length as the maker would type it: "249.5 mm", "4 mm"; in inches "5 7/32 in" where it is a 32nd, else "5.207 in". */
export function typedLength(value: number, units: Units): string {
  if (units === "metric") return `${plain(inUnit(value, "mm"), 1)} mm`;
  const inch = inUnit(value, "in");
  const parts = Math.round(inch * inchParts);
  if (Math.abs(inch * inchParts - parts) > 1e-4) return `${plain(inch, 3)} in`;
  const sign = parts < 0 ? "-" : "";
  const whole = Math.floor(Math.abs(parts) / inchParts);
  let [over, under] = [Math.abs(parts) % inchParts, inchParts];
  if (over === 0) return `${sign}${whole} in`;
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  return `${sign}${whole === 0 ? "" : `${whole} `}${over}/${under} in`;
}

/** Finer than the hand moves: for points of a curve, whose places between the marks of a rule count. */
export function typedExactly(value: number): string {
  return `${plain(inUnit(value, "mm"), 2)} mm`;
}

export function typedAngle(value: number): string {
  return `${plain(inUnit(value, "deg"), 1)} deg`;
}

/** For the eye, always with its decimals: "249.5 mm", "9.823 in". */
export function shownLength(value: number, units: Units): string {
  return units === "metric" ? formatQuantity(value, "mm", 1) : formatQuantity(value, "in", 3);
}

export function shownAngle(value: number): string {
  return formatQuantity(value, "deg", 1);
}

/** The step a length is set to under the hand, that of an arrow key, and that of one with shift, m. Heights go finer. */
export function stepOf(
  units: Units,
  fine = false,
): { readonly snap: number; readonly key: number; readonly long: number } {
  if (units === "metric")
    return fine ? { snap: 1e-4, key: 1e-4, long: 1e-3 } : { snap: 1e-3, key: 0.5e-3, long: 5e-3 };
  const inch = 0.0254;
  return fine
    ? { snap: inch / 128, key: inch / 128, long: inch / 32 }
    : { snap: inch / 32, key: inch / 64, long: inch / 4 };
}

/** What was typed, SI, or why it cannot be read. A bare number is taken in the maker's unit: the box says which. */
export function readTyped(
  text: string,
  kind: "length" | "angle",
  units: Units,
): { readonly ok: true; readonly value: number } | { readonly ok: false; readonly fault: string } {
  const unit = kind === "angle" ? "deg" : units === "metric" ? "mm" : "in";
  const bare = /^[-−–]?\d+(\.\d+)?$/.test(text.trim());
  const parsed = parseQuantity(bare ? `${text.trim()} ${unit}` : text, kind);
  return parsed.ok ? { ok: true, value: parsed.value } : { ok: false, fault: parsed.message };
}

function plain(value: number, decimals: number): string {
  const text = value.toFixed(decimals).replace(/\.?0+$/, "");
  return Number(text) === 0 ? "0" : text;
}
