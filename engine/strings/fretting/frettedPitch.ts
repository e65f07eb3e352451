import { done, failed, type Outcome } from "#engine/numerics";
import { bearingDepth } from "./fingerDepth.ts";
import {
  checkedString,
  type FrettingString,
  fingerBehind,
  noOffsets,
  type Offsets,
} from "./frettingString.ts";
import { type OpenString, openTension, settledShare } from "./openTension.ts";
import { type Rest, restOnSupports, type Support } from "./restOnSupports.ts";
import { soundingFrequency } from "./soundingPart.ts";

/** A string pressed behind a fret. N, m, Hz. */
export interface FrettedPitch {
  readonly fret: number;
  /** First partial of the part between fret and saddle. */
  readonly frequency: number;
  /** Against L/(L - place) times the open frequency, cents; positive is sharp. */
  readonly cents: number;
  readonly openTension: number;
  readonly tension: number;
  /** Longer than open by this share of the length that stretches. */
  readonly strain: number;
  /** Fret to saddle along the string's chord. */
  readonly sounding: number;
  /** The finger's push on the string, down, and the crown's, up. */
  readonly fingerForce: number;
  readonly crownForce: number;
  /** Lower frets that the string rests on behind the finger. */
  readonly alsoOn: readonly number[];
}

/**
 * Pitch of the string pressed behind `fret`.
 *
 * At rest it is a tensioned beam, EI w'''' = T w'', over post, nut, the crowns behind the finger that it comes to rest
 * on (contact that can only push), finger, fret, saddle and pin; slopes and moments run on over each. Its length is
 * that of the chords between supports and 1/2 of the integral of the squared slope from them; the tension is
 *   T = T_0 + (EA + T_0) (l - l_open)/l_open,    mu = mu_open l_open/l
 * (Hooke's law on the length without load; l by the friction convention), solved together with the shape. The pitch is
 * `soundingFrequency` between fret and saddle, each end held by the resistance to turning of what runs on behind it.
 *
 * Valid for slopes below about 0.1 (stretch to their fourth power is left out: 1e-4 of itself at 0.02). Left out: the
 * finger's width and the damping and mass of its tip, sideways bending, friction at fret and finger, the yielding of
 * neck and bridge under the added tension, wear of crowns, and the bends that string and crowns have taken.
 * Refuses as `checkedString` does, and with "no-such-fret", "finger-does-not-press", "not-on-the-fret" or
 * "sounds-from-another-fret" (the string at rest touches a crown nearer the saddle).
 */
export function frettedPitch(
  s: FrettingString,
  fret: number,
  offsets: Offsets = noOffsets,
): Outcome<FrettedPitch> {
  const checked = checkedString(s, offsets);
  if (!checked.ok) return checked;
  if (!Number.isInteger(fret) || fret < 1 || fret >= s.fretPlace.length)
    return failed("no-such-fret", `string ${s.string}: fret ${fret}; it has 1 to ${s.fretPlace.length - 1}`);
  return pressedPitch(s, fret, openTension(s, offsets));
}

/** `frettedPitch` of a checked string whose open tension is known. */
export function pressedPitch(s: FrettingString, fret: number, open: OpenString): Outcome<FrettedPitch> {
  const { axialStiffness, bendingStiffness, linearDensity } = s.design;
  const where = `string ${s.string}, fret ${fret}`;
  const free = s.friction === "none";
  const openLength = free ? open.whole : open.sounding;
  const place = s.fretPlace[fret]!;
  const gap = place - s.fretPlace[fret - 1]!;
  const behind = fingerBehind(s, fret);
  const crown: Support = { place, height: s.crownHeight[fret]! };
  const finger: Support = {
    place: place - behind,
    height: crown.height - (behind / gap) * (crown.height - s.crownHeight[fret - 1]!) - s.finger.depth,
  };
  const [post, nut, saddle, pin] = open.supports;
  if (!(finger.place > nut.place))
    return failed("bad-setup", `${where}: the nut, moved ${nut.place} m, stands under the finger`);
  let tension = open.tension;
  let touched: readonly number[] = [];
  let rest: Rest | null = null;
  // outer passes settle tension (a share of EA/T times the stretch each) and contact together
  for (let pass = 0; pass < 60; pass++) {
    const lower = touched.map((f) => ({ place: s.fretPlace[f]!, height: s.crownHeight[f]! }));
    const supports = [post, nut, ...lower, finger, crown, saddle, pin];
    const outer = free ? tension : open.tension;
    const tensions = supports
      .slice(1)
      .map((_, i) => (i === 0 || i === supports.length - 2 ? outer : tension));
    rest = restOnSupports(supports, tensions, bendingStiffness);
    const lengths = free ? rest.lengths : rest.lengths.slice(1, -1);
    const strain = lengths.reduce((sum, l) => sum + l, 0) / openLength - 1;
    const next = open.tension + (axialStiffness + open.tension) * strain;
    const settled = Math.abs(next - tension) <= settledShare * tension;
    tension = next;
    const contacts = nextContacts(s, fret, touched, rest, nut.place, finger.place);
    if (contacts !== touched) touched = contacts;
    else if (settled) {
      const at = 3 + touched.length;
      return concluded(s, fret, open, rest, { tension, strain, at, crown, saddle, touched, linearDensity });
    }
  }
  return failed("not-on-the-fret", `${where}: no resting place of the string was found`);
}

interface Settled {
  readonly tension: number;
  readonly strain: number;
  /** Index of the fret among the supports. */
  readonly at: number;
  readonly crown: Support;
  readonly saddle: Support;
  readonly touched: readonly number[];
  readonly linearDensity: number;
}

function concluded(
  s: FrettingString,
  fret: number,
  open: OpenString,
  rest: Rest,
  found: Settled,
): Outcome<FrettedPitch> {
  const { tension, strain, at, crown, saddle } = found;
  const where = `string ${s.string}, fret ${fret}`;
  const fingerForce = -rest.reactions[at - 1]!;
  const crownForce = rest.reactions[at]!;
  if (!(fingerForce > 0))
    return failed(
      "finger-does-not-press",
      `${where}: the string lies lower by itself than the finger would press it; press deeper or raise the nut`,
    );
  if (!(crownForce > 0))
    return failed(
      "not-on-the-fret",
      `${where}: pressed ${millimetres(s.finger.depth)} mm deep the string does not bear on the crown; press ${millimetres(bearingDepth(s, fret))} mm or lower the action`,
    );
  for (let f = fret + 1; f < s.fretPlace.length; f++) {
    const over = rest.heightAt(s.fretPlace[f]!) - s.crownHeight[f]!;
    if (!(over > 0))
      return failed(
        "sounds-from-another-fret",
        `${where}: pressed down it lies ${(-1e3 * over).toFixed(2)} mm below the crown of fret ${f} and sounds from there or buzzes; raise the action or take out relief`,
      );
  }
  const root = Math.sqrt(tension);
  const sounding = Math.hypot(saddle.place - crown.place, saddle.height - crown.height);
  const frequency = soundingFrequency({
    length: sounding,
    tension,
    bendingStiffness: s.design.bendingStiffness,
    linearDensity: found.linearDensity / (1 + strain),
    ends: [rest.turning(at, "before") / root, rest.turning(at + 1, "behind") / root],
  });
  const wanted = s.scaleLength / (s.scaleLength - crown.place);
  return done({
    fret,
    frequency,
    cents: 1200 * Math.log2(frequency / (s.openFrequency * wanted)),
    openTension: open.tension,
    tension,
    strain,
    sounding,
    fingerForce,
    crownForce,
    alsoOn: found.touched,
  });
}

/** The same list if it stands; else without crowns that would have to pull, or with the crown cut into deepest. */
function nextContacts(
  s: FrettingString,
  fret: number,
  touched: readonly number[],
  rest: Rest,
  from: number,
  to: number,
): readonly number[] {
  const pushing = touched.filter((_, i) => rest.reactions[2 + i]! > 0);
  if (pushing.length < touched.length) return pushing;
  let deepest = 0;
  let cut = -1e-12 * s.scaleLength;
  for (let f = 1; f < fret; f++) {
    const place = s.fretPlace[f]!;
    if (touched.includes(f) || place <= from || place >= to) continue;
    const over = rest.heightAt(place) - s.crownHeight[f]!;
    if (over < cut) {
      cut = over;
      deepest = f;
    }
  }
  return deepest === 0 ? touched : [...touched, deepest].sort((a, b) => a - b);
}

/** For the maker's eye. */
const millimetres = (length: number) => (1e3 * length).toFixed(2);
