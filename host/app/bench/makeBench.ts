import type { BenchEvent } from "#host/api";
import { accepted, type BenchParts, refusedBy, refusedHere } from "./benchParts.ts";
import type { BenchDeeds, EditAnswer } from "./benchTypes.ts";
import { openFrame } from "./frame.ts";
import { openInHand } from "./inHand.ts";
import type { KeptEdit } from "./keptEdits.ts";
import { openOutbox } from "./outbox.ts";

/** The bench at work: its deeds, and what it must be told from outside. */
export interface BenchAtWork {
  readonly deeds: BenchDeeds;
  /** First look: the frame, and what this browser keeps. */
  begin(orphans: readonly KeptEdit[]): Promise<void>;
  takeUp(orphans: readonly KeptEdit[]): void;
  hear(event: BenchEvent): void;
  /** The line on which the server tells of other pages' changes is there, or gone. */
  line(up: boolean): void;
}

export function makeBench(parts: BenchParts): BenchAtWork {
  const { store, talk, browser, check, clock, newId } = parts;
  let lineUp: boolean | null = null;

  const moved = (): void => {
    const unsent = outbox.waiting().length;
    const lost = outbox.lost() || lineUp === false;
    const connection = lost ? "lost" : unsent > 0 || outbox.sending() ? "sending" : "joined";
    const now = store.getState();
    if (now.connection !== connection || now.unsent !== unsent) store.setState({ connection, unsent });
    const words = outbox.words();
    if (words !== null) frame.notice(words);
  };
  const outbox = openOutbox(talk, browser, clock, {
    acknowledged: (edit, saved, more) => {
      hand.acknowledged(edit, saved, more);
      moved();
    },
    conflicted: (edit, conflict) => {
      hand.conflicted(edit, conflict);
      moved();
    },
    refused: (edit, refusal, stranded) => {
      store.setState({ stranded: [...store.getState().stranded, ...stranded] });
      if (stranded.length === 0) frame.notice(refusal.message);
      void hand.reload(edit.instrument);
      moved();
    },
    moved,
  });
  const hand = openInHand(parts, outbox);
  const frame = openFrame(parts);

  /** What only the server can do: all edits must be there first. */
  const joinedWith = async <T extends EditAnswer>(deed: (id: string) => Promise<T>): Promise<EditAnswer> => {
    const open = store.getState().open;
    if (open === null) return refusedHere("nothing-open", "No instrument is open.");
    if (!(await outbox.drained(open.id)))
      return refusedHere("server-lost", "The server does not answer.", "Try again when it is back.");
    const answer = await deed(open.id);
    await hand.follow();
    return answer;
  };

  const begin = async (text: string, cause: string): Promise<EditAnswer> => {
    const answer = await check(text);
    if (!answer.ok) return answer;
    const asked = { id: newId(), text, cause };
    let said = await talk.begin(asked);
    // The same once more: where only the answer was lost, it is there already.
    if (said.is === "lost") said = await talk.begin(asked);
    if (said.is !== "done") return refusedBy(said);
    hand.lay(said.value);
    await frame.refresh();
    return accepted;
  };

  const deeds: BenchDeeds = {
    begin,
    async beginFromExample(file) {
      const said = await talk.example(file);
      if (said.is !== "done") return refusedBy(said);
      const name = store.getState().examples.find((example) => example.file === file)?.name ?? file;
      return begin(said.value, `begun from the example ${name}`);
    },
    open: hand.open,
    close: hand.close,
    edit: (changes, cause) => hand.edit(changes, cause.trim().slice(0, 300)).finally(moved),
    undo: () => hand.step("undo").finally(moved),
    redo: () => hand.step("redo").finally(moved),
    restore: (revision, cause) => hand.restore(revision, cause.trim().slice(0, 300)).finally(moved),
    keep: (name) =>
      joinedWith(async (id) => {
        const revision = store.getState().open?.revision ?? 1;
        const said = await talk.keep(id, { id: newId(), name: name.trim(), revision });
        return said.is === "done" ? accepted : refusedBy(said);
      }),
    attach: (file) =>
      joinedWith(async (id) => {
        const said = await talk.attach(id, file.name, file);
        return said.is === "done" ? accepted : refusedBy(said);
      }),
    prefer: frame.prefer,
    putAway: frame.putAway,
    async history(before) {
      const open = store.getState().open;
      const said = open === null ? null : await talk.history(open.id, before);
      return said?.is === "done" ? said.value : null;
    },
    async textAt(revision) {
      const open = store.getState().open;
      const said = open === null ? null : await talk.revision(open.id, revision);
      return said?.is === "done" ? said.value : null;
    },
    async textOf(id) {
      const open = store.getState().open;
      if (open?.id === id) return open.text;
      const said = await talk.state(id);
      return said.is === "done" ? said.value.text : null;
    },
    bringIn: frame.bringIn,
    tryNow() {
      outbox.nudge();
      void frame.refresh();
    },
    async letGo(strandedId) {
      await browser.letGo(strandedId);
      store.setState({ stranded: store.getState().stranded.filter(({ id }) => id !== strandedId) });
    },
    settleConflict: (choice) => hand.settleConflict(choice).finally(moved),
  };

  return {
    deeds,
    async begin(orphans) {
      outbox.takeUp(orphans);
      store.setState({ stranded: await browser.stranded().catch(() => []) });
      await frame.refresh();
      moved();
    },
    takeUp: outbox.takeUp,
    hear(event) {
      if (event.kind === "notice") frame.notice(event.words);
      else {
        void frame.refresh();
        const open = store.getState().open;
        const others = event.kind === "list" || event.by !== parts.page;
        if (others && (event.kind === "list" || event.instrument === open?.id)) void hand.follow();
      }
    },
    line(up) {
      const was = lineUp;
      lineUp = up;
      if (up) {
        outbox.nudge();
        if (was === false) void frame.refresh();
        void hand.follow();
      }
      moved();
    },
  };
}
