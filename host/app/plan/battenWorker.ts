import {
  bentBatten,
  type FairRest,
  holeCurve,
  layBatten,
  outlineFairness,
  sampleCurve,
  shapedOutline,
} from "#engine/geometry";
import type { BattenAnswer, BattenAsk } from "./battenTalk.ts";

/** How near a batten laid along a curve must come to it, m: a tenth of a millimetre, as the page says. */
const within = 1e-4;
const holeSpacing = 0.003;
/** Points a document holds a hole by, m apart. */
const holePoints = 0.006;

let newest = 0;
/** Where the batten lay for the last place of the hand. */
let before: FairRest | null = null;

addEventListener("message", ({ data }: MessageEvent<{ readonly id: number; readonly ask: BattenAsk }>) => {
  newest = data.id;
  const tell = (last: boolean, answer: Told): void =>
    postMessage({ id: data.id, last, answer } satisfies BattenAnswer);
  // what has come in meanwhile is seen first
  setTimeout(() => {
    if (data.id !== newest) return;
    const { now, later } = answered(data.ask);
    tell(later === null, now);
    if (later === null) return;
    setTimeout(() => {
      if (data.id === newest) tell(true, later());
    });
  });
});

type Told = BattenAnswer["answer"];

/** What can be told at once, and what takes somewhat longer. */
function answered(ask: BattenAsk): { readonly now: Told; readonly later: (() => Told) | null } {
  if (ask.kind === "outline") {
    const shaped = shapedOutline(ask.by, ask.cutaway, before);
    if (!shaped.ok) return { now: shaped, later: null };
    before = shaped.value.rest;
    const { edge, full, cutaway, points, plan } = shaped.value;
    const shape = { kind: "outline", edge, full, cutaway, points } as const;
    return {
      now: { ok: true, shape: { ...shape, fairness: null } },
      later: () => ({ ok: true, shape: { ...shape, fairness: outlineFairness(plan) } }),
    };
  }
  return { now: ask.kind === "hole" ? bentHole(ask.weights) : laid(ask), later: null };
}

function bentHole(weights: Extract<BattenAsk, { kind: "hole" }>["weights"]): Told {
  const bent = bentBatten(weights, before);
  if (!bent.ok) return bent;
  const { curve, rest } = bent.value;
  before = rest;
  const [edge, points] = [holeSpacing, holePoints].map((spacing) => sampleCurve(curve, spacing));
  return { ok: true, shape: { kind: "hole", edge: edge!, points: points! } };
}

function laid(ask: Extract<BattenAsk, { kind: "lay outline" | "lay hole" }>): Told {
  let batten: ReturnType<typeof layBatten>;
  if (ask.kind === "lay outline") {
    const shaped = shapedOutline(ask.outline, null);
    if (!shaped.ok) return shaped;
    batten = layBatten(shaped.value.plan.fullOutline, shaped.value.plan.length, within);
  } else {
    const hole = holeCurve(ask.hole);
    if (!hole.ok) return hole;
    batten = layBatten(hole.value, null, within);
  }
  return batten.ok ? { ok: true, shape: { kind: "laid", batten: batten.value } } : batten;
}
