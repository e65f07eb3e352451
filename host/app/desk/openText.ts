import { type Build, type CheckedInstrument, checkInstrument } from "#engine/instrument";
import { done, failed, type Outcome } from "#engine/numerics";
import { type InstrumentGeometry, instrumentGeometry, type SetString, stringSet } from "#engine/pipeline";
import { remembered } from "./remembered.ts";

/** A document read, checked, realised and laid out in plan. */
export interface OpenedText {
  readonly text: string;
  readonly checked: Extract<CheckedInstrument, { ok: true }>;
  readonly build: Build;
  readonly geometry: InstrumentGeometry;
  readonly strings: readonly SetString[];
}

export interface TextOpener {
  readonly check: (text: string) => CheckedInstrument;
  readonly open: (text: string) => Outcome<OpenedText>;
}

/** Texts opened before are remembered. Fails with 'refused' (the first fault in the document, in words), and as its stages do. */
export function textOpener(most = 6): TextOpener {
  const checks = remembered<CheckedInstrument>(most);
  const opened = remembered<Outcome<OpenedText>>(most);
  const check = (text: string): CheckedInstrument => {
    const known = checks.get(text) ?? checkInstrument(text);
    checks.set(text, known);
    return known;
  };
  const openNew = (text: string): Outcome<OpenedText> => {
    const checked = check(text);
    if (!checked.ok) return failed("refused", checked.issues[0]?.message ?? "the document is refused");
    const { build, plan } = checked;
    const geometry = instrumentGeometry(build, plan);
    if (!geometry.ok) return geometry;
    const strings = stringSet(build);
    if (!strings.ok) return strings;
    return done({ text, checked, build, geometry: geometry.value, strings: strings.value });
  };
  const open = (text: string): Outcome<OpenedText> => {
    const known = opened.get(text) ?? openNew(text);
    opened.set(text, known);
    return known;
  };
  return { check, open };
}
