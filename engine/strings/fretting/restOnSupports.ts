import { type Span, spanExcess, spanRise, tensionedSpan } from "./tensionedSpan.ts";

/** A point that the string is held at: place along the base line and height, m. */
export interface Support {
  readonly place: number;
  readonly height: number;
}

/** A string at rest on its supports, in order; the two outermost are hinges. */
export interface Rest {
  /** Between supports, first to last. */
  readonly spans: readonly Span[];
  /** Length of each span as it is bent, m. */
  readonly lengths: Float64Array;
  /** Upward force of each support on the string, N. */
  readonly reactions: Float64Array;
  /** Height of the string at a place, m. */
  readonly heightAt: (place: number) => number;
  /** Resistance to turning that all before a support, or all behind it, offers there, over sqrt(EI), sqrt(N) a radian. */
  readonly turning: (support: number, side: "before" | "behind") => number;
}

/**
 * The tensioned beam over point supports without friction: slopes and moments run on over each of them, and the
 * moments at each support add up to nothing, which is a tridiagonal system in the slopes. `tensions` by span, N.
 */
export function restOnSupports(
  supports: readonly Support[],
  tensions: readonly number[],
  bendingStiffness: number,
): Rest {
  const n = supports.length - 1;
  const chords = Array.from({ length: n }, (_, i) => ({
    length: Math.hypot(
      supports[i + 1]!.place - supports[i]!.place,
      supports[i + 1]!.height - supports[i]!.height,
    ),
    slope: (supports[i + 1]!.height - supports[i]!.height) / (supports[i + 1]!.place - supports[i]!.place),
  }));
  const spans = chords.map((c, i) => tensionedSpan(c.length, bendingStiffness, tensions[i]!));
  const roots = tensions.map(Math.sqrt);
  const near = spans.map((s, i) => s.near * roots[i]!);
  const far = spans.map((s, i) => s.far * roots[i]!);
  const slopes = supportSlopes(
    chords.map((c) => c.slope),
    near,
    far,
  );
  const phi = (i: number, end: 0 | 1) => slopes[i + end]! - chords[i]!.slope;

  const lengths = Float64Array.from(spans, (s, i) => s.length + spanExcess(s, phi(i, 0), phi(i, 1)));
  const stiff = Math.sqrt(bendingStiffness);
  /** Transverse force carried by a span: T slope less what its end moments take off. */
  const shear = spans.map(
    (s, i) =>
      tensions[i]! * chords[i]!.slope - (stiff * (near[i]! + far[i]!) * (phi(i, 0) + phi(i, 1))) / s.length,
  );
  const reactions = Float64Array.from(supports, (_, i) => (shear[i - 1] ?? 0) - (shear[i] ?? 0));
  const heightAt = (place: number) => {
    let i = 0;
    while (i < n - 1 && supports[i + 1]!.place <= place) i++;
    const from = supports[i]!;
    const x = place - from.place;
    const along = (x * chords[i]!.length) / (supports[i + 1]!.place - from.place);
    return from.height + chords[i]!.slope * x + spanRise(spans[i]!, phi(i, 0), phi(i, 1), along);
  };
  const turning = (support: number, side: "before" | "behind") => {
    // from the hinge at the outer end inwards, each span adds its own resistance to what lies beyond it
    let held = 0;
    const step = side === "before" ? 1 : -1;
    for (let i = side === "before" ? 0 : n - 1; side === "before" ? i < support : i >= support; i += step)
      held = near[i]! - far[i]! ** 2 / (held + near[i]!);
    return held;
  };
  return { spans, lengths, reactions, heightAt, turning };
}

/** Slopes at all supports from those of the chords: near and far are the moment coefficients by span. */
function supportSlopes(
  chordSlopes: readonly number[],
  near: readonly number[],
  far: readonly number[],
): Float64Array {
  const n = chordSlopes.length;
  const diagonal = new Float64Array(n + 1);
  const right = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const pull = (near[i]! + far[i]!) * chordSlopes[i]!;
    for (const k of [i, i + 1]) {
      diagonal[k]! += near[i]!;
      right[k]! += pull;
    }
  }
  for (let i = 0; i < n; i++) {
    const factor = far[i]! / diagonal[i]!;
    diagonal[i + 1]! -= factor * far[i]!;
    right[i + 1]! -= factor * right[i]!;
  }
  const slopes = new Float64Array(n + 1);
  for (let i = n; i >= 0; i--)
    slopes[i] = (right[i]! - (i < n ? far[i]! * slopes[i + 1]! : 0)) / diagonal[i]!;
  return slopes;
}
