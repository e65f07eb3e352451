/**
 * The proof harness: a published value is checked together with the proof's own power to notice an error.
 *
 * A proof names its source, a tolerance with a reason, and the slips it must notice. The computation takes a record of
 * slip factors (all 1 in the honest run); the harness runs it once honestly and demands agreement, then once for each
 * slip with that factor put in, and demands disagreement. A proof that cannot fail is thereby itself a failing test.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

type Numbers = number | ArrayLike<number>;
export type Slips = Readonly<Record<string, number>>;

export interface ProofCard {
  /** Key in docs/sources.json, optionally followed by a place in it: "LEISSA-1969 table 4.65". */
  readonly source: string;
  /** The published numbers, in SI unless the title says otherwise. */
  readonly quoted: Numbers;
  /** Relative tolerance on each number (either this, absTol or both: the looser one counts). */
  readonly relTol?: number;
  /** Absolute tolerance on each number, in the unit of the number. */
  readonly absTol?: number;
  /** Why the tolerance is what it is. */
  readonly because: string;
  /** Slip name -> factor that the computation multiplies into the thing so named; each must break the proof. */
  readonly mustNotice: Slips;
}

const sources: Record<string, string> = JSON.parse(
  readFileSync(new URL("../../docs/sources.json", import.meta.url), "utf8"),
);

/** Largest excess of |found - quoted| over the tolerance, as a ratio: 1 or less agrees. */
export function worstRatio(found: Numbers, card: ProofCard): number {
  const f = typeof found === "number" ? [found] : Array.from(found);
  const q = typeof card.quoted === "number" ? [card.quoted] : Array.from(card.quoted);
  if (f.length !== q.length)
    throw new Error(`the proof returned ${f.length} numbers, its source has ${q.length}`);
  let worst = 0;
  for (let i = 0; i < q.length; i++) {
    const allowed = Math.max(card.absTol ?? 0, (card.relTol ?? 0) * Math.abs(q[i]!));
    const gap = Math.abs(f[i]! - q[i]!);
    worst = Math.max(worst, gap === 0 ? 0 : Number.isNaN(gap) ? Number.POSITIVE_INFINITY : gap / allowed);
  }
  return worst;
}

/** Registers the proof: one test for agreement and one for each error it must notice. */
export function proof(
  title: string,
  card: ProofCard,
  compute: (slip: Slips) => Numbers | Promise<Numbers>,
): void {
  describe(title, () => {
    it("has a known source, a tolerance with a reason and an error to notice", () => {
      expect(Object.keys(sources)).toContain(card.source.split(" ")[0]);
      expect(card.because.length).toBeGreaterThan(10);
      expect((card.relTol ?? 0) + (card.absTol ?? 0)).toBeGreaterThan(0);
      expect(Object.keys(card.mustNotice).length).toBeGreaterThan(0);
    });
    it(`agrees with ${card.source}`, async () => {
      const found = await compute({});
      const worst = worstRatio(found, card);
      expect(worst, `found ${JSON.stringify(found)} for ${JSON.stringify(card.quoted)}`).toBeLessThanOrEqual(
        1,
      );
    });
    for (const [name, factor] of Object.entries(card.mustNotice)) {
      it(`notices ${name} x ${factor}`, async () => {
        expect(worstRatio(await compute({ [name]: factor }), card)).toBeGreaterThan(1);
      });
    }
  });
}
