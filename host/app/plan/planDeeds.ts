import type { Point } from "#engine/geometry";
import type { InstrumentSketch, LiveChange } from "#engine/pipeline";
import { benchDeeds, changedText, type FieldChange, type Json, stepsOf, useBench } from "../bench/index.ts";
import { deskDeeds } from "../desk/deskDeeds.ts";
import { useDesk } from "../desk/useDesk.ts";
import { batten } from "./batten.ts";
import type { BattenAsk } from "./battenTalk.ts";
import { dragCause, entryCause } from "./cause.ts";
import type { Entry, Handle } from "./handle.ts";
import { liveChange } from "./liveChange.ts";
import { type Draft, usePlan } from "./planState.ts";
import { type Setting, typedChanges, withSettings, workedOf } from "./settings.ts";
import { snapped } from "./snap.ts";
import { stepOf } from "./typed.ts";
import { withWeight } from "./withWeight.ts";

/** How near a snap draws, px; a rest of the hand after which the document is checked, ms. */
const reachPx = 9;
const restMs = 180;

let rest: ReturnType<typeof setTimeout> | undefined;
let checks = 0;

const units = () => useBench.getState().preferences.units;
const sketch = (): InstrumentSketch | null => useDesk.getState().sketch.value;

/** The hand takes hold. */
export function take(handle: Handle): void {
  const now = sketch();
  if (now === null) return;
  usePlan.setState({
    draft: { handle, to: handle.at, settings: [], target: null, stage: "held" },
    bent: null,
    refusal: null,
    entry: null,
    ...(handle.owner.includes("braces[") ? { chosen: handle.owner } : {}),
  });
  if (/^(top|back)\.braces\[\d+\]$/.test(handle.owner)) deskDeeds.hold(handle.owner);
}

/** The hand moves: `free` lets nothing draw it. */
export function move(raw: Point, free: boolean): void {
  const { draft, view, snapping, alone } = usePlan.getState();
  if (draft?.stage !== "held" || view === null) return;
  const { handle } = draft;
  const kept: Point = [handle.free[0] ? raw[0] : handle.at[0], handle.free[1] ? raw[1] : handle.at[1]];
  const { at, target } = snapped(kept, handle.targets, {
    step: stepOf(units(), handle.fine).snap,
    // a whole thing moves by whole marks, so that its ends keep the fractions they were given
    from: handle.look === "whole" ? handle.at : [0, 0],
    reach: reachPx / view.scale / 1000,
    off: free || !snapping,
    free: handle.free,
  });
  drafted({ ...draft, to: at, target, settings: handle.moved(at, alone) });
}

/** Moved by the keys: as far as asked, on nothing but the marks of the rule. */
export function nudge(handle: Handle, by: Point): void {
  const { draft, alone } = usePlan.getState();
  if (draft === null || draft.handle.id !== handle.id || draft.stage !== "held") take(handle);
  const held = usePlan.getState().draft;
  if (held === null) return;
  const to: Point = [
    held.to[0] + (held.handle.free[0] ? by[0] : 0),
    held.to[1] + (held.handle.free[1] ? by[1] : 0),
  ];
  drafted({ ...held, to, target: null, settings: held.handle.moved(to, alone) });
}

function drafted(draft: Draft): void {
  usePlan.setState({ draft });
  const change = shapeAsk(draft.settings);
  if (change !== null)
    batten.ask(change, (answer) => {
      const current = usePlan.getState().draft;
      if (current === null || current.handle.id !== draft.handle.id) return;
      if (!answer.ok) usePlan.setState({ refusal: { handle: draft.handle.id, words: answer.detail } });
      else if (answer.shape.kind !== "laid")
        usePlan.setState((plan) => ({
          bent: answer.shape.kind === "laid" ? plan.bent : answer.shape,
          refusal: plan.refusal?.handle === draft.handle.id ? null : plan.refusal,
        }));
    });
  const now = sketch();
  const live: LiveChange = now === null ? [] : liveChange(now, draft.settings, useDesk.getState().movable);
  if (live.length > 0) deskDeeds.drag(live);
  clearTimeout(rest);
  rest = setTimeout(() => void checkDraft(), restMs);
}

/** What the batten's worker solves of these settings; null: nothing of the outline or of a hole held by weights. */
function shapeAsk(settings: readonly Setting[]): BattenAsk | null {
  const now = sketch();
  if (now === null || settings.length === 0) return null;
  const weights = settings.find((s) => s.kind === "weights");
  const worked = withSettings(workedOf(now), settings);
  if (weights?.kind === "weights")
    return weights.path === "soundHole"
      ? { kind: "hole", weights: weights.value }
      : { kind: "outline", by: { kind: "weights", weights: weights.value }, cutaway: worked.cutaway };
  return settings.some(({ path }) => path.startsWith("outline") || path.startsWith("cutaway"))
    ? { kind: "outline", by: worked.outline, cutaway: worked.cutaway }
    : null;
}

/** Whether the document may be as the hand has it: said at the handle while it rests. */
async function checkDraft(): Promise<void> {
  const { draft } = usePlan.getState();
  const open = useBench.getState().open;
  if (draft?.stage !== "held" || open === null) return;
  const changes = documentChanges(draft.settings);
  if (changes.length === 0) return;
  const mine = ++checks;
  const answer = await deskDeeds.check(changedText(open.text, changes));
  const current = usePlan.getState().draft;
  if (mine !== checks || current?.handle.id !== draft.handle.id) return;
  usePlan.setState({
    refusal: answer.ok ? null : { handle: draft.handle.id, words: answer.issues[0]?.message ?? "refused" },
  });
}

/** The hand lets go: one edit with its cause in words. */
export async function letGo(): Promise<void> {
  const { draft } = usePlan.getState();
  if (draft?.stage !== "held") return;
  clearTimeout(rest);
  if (!draft.handle.free[0] && !draft.handle.free[1]) usePlan.setState({ entry: draft.handle.id });
  if (draft.settings.length === 0 || same(draft.to, draft.handle.at)) return drop();
  await send(draft, dragCause(draft.handle, draft.to, draft.settings, units()));
}

/** An exact figure was typed at a handle. */
export async function enter(handle: Handle, entry: Entry, value: number): Promise<boolean> {
  const { alone } = usePlan.getState();
  const settings = entry.set(value, alone);
  const draft: Draft = { handle, to: handle.at, settings, target: null, stage: "held" };
  usePlan.setState({ refusal: null });
  drafted(draft);
  return send(draft, entryCause(handle, entry, value, units()));
}

/** A weight is taken off: the batten springs to where the others hold it. */
export async function takeOff(handle: Handle): Promise<boolean> {
  const settings = handle.takenOff?.() ?? [];
  if (settings.length === 0) return false;
  usePlan.setState({ refusal: null, entry: null });
  return send({ handle, to: handle.at, settings, target: null, stage: "held" }, `${handle.name} taken off`);
}

/** A further weight, set on the batten where it lies: nothing moves. */
export function addWeight(which: "outline" | "soundHole"): void {
  const { laid } = usePlan.getState();
  const before = laid[which];
  if (before === null) return;
  const edge = sketch()?.[which === "outline" ? "fullOutline" : "hole"];
  const curve = edge instanceof Float64Array ? edge : edge?.edge;
  if (curve === undefined) return;
  const weights = withWeight(before.weights, curve);
  usePlan.setState({ laid: { ...laid, [which]: { ...before, weights } } });
}

/** One edit of the document. Whether it was taken. */
async function send(draft: Draft, cause: string): Promise<boolean> {
  clearTimeout(rest);
  const ask = shapeAsk(draft.settings);
  if (draft.settings.some(({ kind }) => kind === "weights") && ask !== null) {
    const solved = await new Promise<boolean>((settle) =>
      batten.ask(ask, (answer) => {
        if (answer.ok && answer.shape.kind !== "laid") usePlan.setState({ bent: answer.shape });
        else if (!answer.ok) usePlan.setState({ refusal: { handle: draft.handle.id, words: answer.detail } });
        settle(answer.ok);
      }),
    );
    if (!solved) {
      drop(true);
      return false;
    }
  }
  const changes = documentChanges(draft.settings);
  usePlan.setState({ draft: { ...draft, stage: "sent" } });
  deskDeeds.release();
  const answer = await benchDeeds.edit(changes, cause);
  if (!answer.ok) {
    usePlan.setState({
      refusal: { handle: draft.handle.id, words: answer.issues[0]?.message ?? "This change was refused." },
    });
    drop(true);
    return false;
  }
  const weights = draft.settings.find((s) => s.kind === "weights");
  usePlan.setState((plan) => ({
    told: cause,
    draft: plan.draft?.stage === "sent" ? { ...plan.draft, stage: "taken" } : plan.draft,
    ...(weights?.kind === "weights"
      ? { laid: { ...plan.laid, [weights.path]: { weights: weights.value, gap: 0, kept: true } } }
      : {}),
  }));
  sketched();
  return true;
}

/** Nothing was meant. */
export function drop(keepRefusal = false): void {
  clearTimeout(rest);
  batten.drop();
  if (usePlan.getState().draft?.settings.length) deskDeeds.letBe();
  usePlan.setState({ draft: null, bent: null, ...(keepRefusal ? {} : { refusal: null }) });
}

/** The sketch of the document as it now stands has come: what was sent is in it. */
export function sketched(): void {
  const { draft } = usePlan.getState();
  const { text, sketch: stage } = useDesk.getState();
  if (draft?.stage === "taken" && stage.fresh && text === useBench.getState().open?.text)
    usePlan.setState({ draft: null, bent: null });
}

/** Lays the batten along the outline, or along a hole that is drawn through points. */
export function lay(which: "outline" | "soundHole"): void {
  const now = sketch();
  if (now === null) return;
  batten.ask(
    which === "outline"
      ? { kind: "lay outline", outline: now.shape.outline }
      : { kind: "lay hole", hole: now.shape.hole },
    (answer) => {
      if (answer.ok && answer.shape.kind === "laid") {
        const laidNow = { ...answer.shape.batten, kept: false };
        usePlan.setState((plan) => ({ laid: { ...plan.laid, [which]: laidNow } }));
      } else if (!answer.ok) usePlan.setState({ refusal: { handle: which, words: answer.detail } });
    },
  );
}

/** The settings as fields of the document; a value that carries its origin is changed inside. */
export function documentChanges(settings: readonly Setting[]): readonly FieldChange[] {
  const { bent } = usePlan.getState();
  const solved = settings.flatMap((setting): Setting[] => {
    if (setting.kind !== "weights") return [setting];
    if (bent === null) return [];
    return [{ path: `${setting.path}.points`, kind: "points", value: bent.points }];
  });
  const document = useBench.getState().open?.document ?? {};
  return typedChanges(solved, units()).map((change) => {
    const there = valueAt(document, change.path);
    return typeof there === "object" && there !== null && !Array.isArray(there) && "how" in there
      ? { ...change, path: `${change.path}.value` }
      : change;
  });
}

function valueAt(document: { readonly [key: string]: Json }, path: string): Json | undefined {
  return stepsOf(path).reduce<Json | undefined>((here, step) => {
    if (typeof here !== "object" || here === null) return undefined;
    return (here as { readonly [key: string]: Json })[step];
  }, document);
}

function same(a: Point, b: Point): boolean {
  return Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-7;
}
