import type { Conflict, InstrumentState, Saved } from "#host/api";
import { accepted, type BenchParts, refusedBy, refusedHere } from "./benchParts.ts";
import type { EditAnswer, FieldChange, Json, OpenInstrument } from "./benchTypes.ts";
import { changedText } from "./changedText.ts";
import type { KeptEdit } from "./keptEdits.ts";
import { type LocalSteps, learned, noSteps, redoKnown, stepped, undoKnown, withEdit } from "./localSteps.ts";
import type { Outbox } from "./outbox.ts";

/** The open instrument: shown with the edits that still wait, changed only through here. */
export interface InHand {
  open(id: string): Promise<EditAnswer>;
  /** A state that the server has just told. */
  lay(state: InstrumentState): void;
  close(): void;
  edit(changes: readonly FieldChange[], cause: string): Promise<EditAnswer>;
  step(kind: "undo" | "redo"): Promise<EditAnswer>;
  restore(revision: number, cause: string): Promise<EditAnswer>;
  settleConflict(choice: "theirs" | "mine"): Promise<void>;
  /** Another page changed something: taken over at once where nothing is unsent here. */
  follow(): Promise<void>;
  acknowledged(edit: KeptEdit, saved: Saved, more: number): void;
  conflicted(edit: KeptEdit, conflict: Conflict): void;
  /** What was shown is not so: asks for what stands. */
  reload(instrument: string): Promise<void>;
}

export function openInHand(parts: BenchParts, outbox: Outbox): InHand {
  const { store, talk, browser, check, clock, newId, page } = parts;
  let local: LocalSteps = noSteps;
  /** What undo and redo would do beyond the steps that this page knows. */
  let beyond: Pick<OpenInstrument, "undo" | "redo"> = { undo: null, redo: null };
  let turn: Promise<unknown> = Promise.resolve();

  /** One change after the other: each is made on what the one before it left. */
  const inTurn = <T>(deed: () => Promise<T>): Promise<T> => {
    const next = turn.then(deed);
    turn = next.catch(() => {});
    return next;
  };
  const inHand = (): OpenInstrument | null => store.getState().open;
  const conflictOf = (id: string): Conflict | null => {
    const { conflict } = store.getState();
    return conflict?.current.id === id ? conflict : null;
  };

  const show = (open: OpenInstrument, text: string): void => {
    const document = text === open.text ? open.document : parsed(text);
    store.setState({
      open: {
        ...open,
        name: typeof document["name"] === "string" ? document["name"] : open.name,
        text,
        document,
        undo: undoKnown(local)?.cause ?? beyond.undo,
        redo: redoKnown(local)?.cause ?? beyond.redo,
      },
    });
  };

  const lay = (state: InstrumentState): void => {
    const same = inHand()?.id === state.id && inHand()?.text === state.text;
    const waiting = conflictOf(state.id) === null ? outbox.waiting(state.id) : [];
    if (!same || waiting.length > 0) {
      local = noSteps;
      let before = state.text;
      for (const { kind, text, cause } of waiting) {
        if (text === null) continue;
        local =
          kind === "edit" || kind === "restore" ? withEdit(local, { before, after: text, cause }) : noSteps;
        before = text;
      }
    }
    beyond = { undo: state.undo, redo: waiting.length === 0 ? state.redo : null };
    const { id, name, revision, keepsakes, aside, attachments } = state;
    const open = { id, name, revision, keepsakes, aside, attachments, text: "", document: {}, ...beyond };
    show(open, waiting.findLast(({ text }) => text !== null)?.text ?? state.text);
  };

  const remembered = (state: InstrumentState): void => {
    // Only for a reload while the server is away: nothing that counts is lost without it.
    browser.see(state).catch(() => {});
  };

  /** What a new change comes on top of. */
  const ground = (open: OpenInstrument): Pick<KeptEdit, "basis" | "after"> => {
    const last = outbox.waiting(open.id).at(-1);
    return last === undefined ? { basis: open.revision, after: null } : { basis: null, after: last.id };
  };

  const kept = (
    open: OpenInstrument,
    change: Pick<KeptEdit, "kind" | "text" | "cause"> & { readonly revision?: number },
  ): KeptEdit => ({
    revision: null,
    ...change,
    id: newId(),
    page,
    instrument: open.id,
    at: clock.now(),
    ...ground(open),
  });

  /** Shows what a change brings and keeps it; a browser that cannot keep it refuses it, and the old state is back. */
  const putShown = async (open: OpenInstrument, edit: KeptEdit, next: LocalSteps): Promise<EditAnswer> => {
    const before = { local, beyond };
    const text = edit.text ?? open.text;
    local = next;
    if (edit.kind === "edit" || edit.kind === "restore") beyond = { ...beyond, redo: null };
    show(open, text);
    try {
      await outbox.put(edit);
      return accepted;
    } catch {
      const now = inHand();
      if (now?.id === open.id && now.text === text) {
        ({ local, beyond } = before);
        show(now, open.text);
      }
      return refusedHere(
        "browser-full",
        "This browser cannot keep the change until the server has it: its store is full or closed.",
        "Make room on this device, then do it again.",
      );
    }
  };

  /** Why nothing can be changed just now; null: it can. */
  const hindrance = async (open: OpenInstrument | null): Promise<EditAnswer | null> => {
    if (open === null) return refusedHere("nothing-open", "No instrument is open.");
    if (conflictOf(open.id) !== null)
      return refusedHere(
        "conflict",
        "Another page changed this instrument too.",
        "First choose which of the two states stands; both are kept.",
      );
    const unknown = outbox.waiting(open.id).some(({ text }) => text === null);
    return unknown && !(await outbox.drained(open.id)) ? stepNeedsServer() : null;
  };

  const edit = async (changes: readonly FieldChange[], cause: string): Promise<EditAnswer> => {
    for (;;) {
      const hindered = await hindrance(inHand());
      const open = inHand();
      if (hindered !== null || open === null)
        return hindered ?? refusedHere("nothing-open", "No instrument is open.");
      const text = changedText(open.text, changes);
      if (text === open.text) return accepted;
      const answer = await check(text);
      const now = inHand();
      if (now?.id !== open.id) return refusedHere("nothing-open", "The instrument was closed meanwhile.");
      // Another page's change was taken over while the engine looked: the change is made on that.
      if (now.text !== open.text || conflictOf(open.id) !== null) continue;
      if (!answer.ok) return answer;
      const step = { before: open.text, after: text, cause };
      return putShown(now, kept(now, { kind: "edit", text, cause }), withEdit(local, step));
    }
  };

  const step = async (kind: "undo" | "redo"): Promise<EditAnswer> => {
    const hindered = await hindrance(inHand());
    const open = inHand();
    if (hindered !== null || open === null)
      return hindered ?? refusedHere("nothing-open", "No instrument is open.");
    const known = kind === "undo" ? undoKnown(local) : redoKnown(local);
    const what = open[kind];
    if (what === null) return refusedHere(`nothing-to-${kind}`, `There is nothing to ${kind}.`);
    if (known !== null) {
      const text = kind === "undo" ? known.before : known.after;
      const moved = stepped(local, kind === "undo" ? -1 : 1);
      return putShown(open, kept(open, { kind, text, cause: `${kind}: ${what}` }), moved);
    }
    if (!(await outbox.drained(open.id))) return stepNeedsServer();
    const now = inHand();
    if (now?.id !== open.id || now[kind] === null) return accepted;
    await outbox.put(kept(now, { kind, text: null, cause: `${kind}: ${what}` }));
    return (await outbox.drained(open.id)) ? accepted : stepNeedsServer();
  };

  const restore = async (revision: number, cause: string): Promise<EditAnswer> => {
    const hindered = await hindrance(inHand());
    const open = inHand();
    if (hindered !== null || open === null)
      return hindered ?? refusedHere("nothing-open", "No instrument is open.");
    const said = await talk.revision(open.id, revision);
    if (said.is !== "done") return refusedBy(said);
    const now = inHand();
    if (now?.id !== open.id) return refusedHere("nothing-open", "The instrument was closed meanwhile.");
    const after = withEdit(local, { before: now.text, after: said.value, cause });
    return putShown(now, kept(now, { kind: "restore", text: said.value, cause, revision }), after);
  };

  /** What stands at the server, no older than what it acknowledged while it was asked. */
  const standing = async (id: string): ReturnType<typeof talk.state> => {
    for (;;) {
      const known = outbox.acknowledged(id);
      const said = await talk.state(id);
      const now = outbox.acknowledged(id);
      if (said.is !== "done" || now === known || said.value.revision >= now) return said;
    }
  };

  const reload = async (instrument: string): Promise<void> => {
    const said = await standing(instrument);
    if (said.is !== "done" || inHand()?.id !== instrument) return;
    remembered(said.value);
    local = noSteps;
    lay(said.value);
  };

  return {
    lay(state) {
      remembered(state);
      lay(state);
    },
    async open(id) {
      const said = await standing(id);
      if (said.is === "done") {
        remembered(said.value);
        lay(said.value);
        return accepted;
      }
      const seen = said.is === "lost" ? await browser.seen(id).catch(() => null) : null;
      if (seen === null) return refusedBy(said);
      lay(seen);
      return accepted;
    },
    close() {
      local = noSteps;
      store.setState({ open: null });
    },
    edit: (changes, cause) => inTurn(() => edit(changes, cause)),
    step: (kind) => inTurn(() => step(kind)),
    restore: (revision, cause) => inTurn(() => restore(revision, cause)),
    async settleConflict(choice) {
      const { conflict } = store.getState();
      if (conflict === null) return;
      const { current, aside } = conflict;
      if (choice === "theirs" || aside === null) {
        store.setState({ conflict: null });
        return;
      }
      // What waited behind is set aside as well; the last of it is what this page had in hand.
      if (!(await outbox.drained(current.id))) return;
      const last = conflictOf(current.id)?.aside ?? aside;
      if (inHand()?.id !== current.id) lay(conflictOf(current.id)?.current ?? current);
      store.setState({ conflict: null });
      const answer = await inTurn(() => restore(last.revision, `set aside, now taken: ${last.cause}`));
      if (!answer.ok) store.setState({ conflict });
    },
    async follow() {
      const open = inHand();
      if (open === null || outbox.waiting(open.id).length > 0) return;
      const said = await talk.state(open.id);
      if (said.is !== "done") return;
      const now = inHand();
      // Own edits made meanwhile go on top of what this page had; the server then tells of the conflict.
      if (now?.id !== open.id || outbox.waiting(open.id).length > 0 || conflictOf(open.id) !== null) return;
      if (said.value.revision < now.revision) return;
      remembered(said.value);
      lay(said.value);
    },
    acknowledged(edit, saved, more) {
      const open = inHand();
      if (open?.id !== edit.instrument) return;
      const next = { ...open, revision: saved.revision };
      let text = open.text;
      if (saved.text !== undefined && saved.text !== edit.text && more === 0) {
        if (edit.text === null && edit.kind !== "edit" && edit.kind !== "restore") {
          const other = open[edit.kind] ?? edit.cause;
          const [before, after] = edit.kind === "undo" ? [saved.text, text] : [text, saved.text];
          local = learned(local, edit.kind, { before, after, cause: other });
        } else local = noSteps;
        text = saved.text;
      }
      if (more === 0) {
        beyond = {
          undo: undoKnown(local) === null ? saved.undo : beyond.undo,
          redo: redoKnown(local) === null ? saved.redo : beyond.redo,
        };
        const { id, keepsakes, aside, attachments } = open;
        const { revision, undo, redo } = saved;
        remembered({ id, name: open.name, revision, text, undo, redo, keepsakes, aside, attachments });
      }
      show(next, text);
    },
    conflicted(edit, conflict) {
      const restored = conflict.current.aside.find(({ revision }) => revision === edit.revision);
      const earlier = conflictOf(edit.instrument)?.aside ?? null;
      const aside = conflict.aside ?? (edit.kind === "restore" ? restored : undefined) ?? earlier;
      store.setState({ conflict: { ...conflict, aside } });
      remembered(conflict.current);
      if (inHand()?.id === edit.instrument) {
        local = noSteps;
        lay(conflict.current);
      }
    },
    reload,
  };
}

function parsed(text: string): OpenInstrument["document"] {
  return JSON.parse(text) as { readonly [key: string]: Json };
}

function stepNeedsServer(): EditAnswer & { ok: false } {
  return refusedHere(
    "server-lost",
    "What would come back is known to the server only, and it does not answer.",
    "It is done as soon as the page is joined again.",
  );
}
