import type { Conflict, Refusal, Saved } from "#host/api";
import type { StrandedEdit } from "./benchTypes.ts";
import type { BrowserStore, KeptEdit } from "./keptEdits.ts";
import type { Said, ServerTalk } from "./serverTalk.ts";

/** Time as the bench needs it; a test brings its own. */
export interface BenchClock {
  /** ISO 8601, UTC. */
  now(): string;
  /** Calls back once after so many milliseconds, unless cut before. */
  after(milliseconds: number, then: () => void): { cut(): void };
}

/** What the outbox tells of its work. */
export interface OutboxEars {
  /** The server has it; `more` changes of the same instrument still wait. */
  acknowledged(edit: KeptEdit, saved: Saved, more: number): void;
  /** Another page was first; changes that waited behind it go to the server to be set aside as well. */
  conflicted(edit: KeptEdit, conflict: Conflict): void;
  refused(edit: KeptEdit, refusal: Refusal, stranded: readonly StrandedEdit[]): void;
  /** Something changed about what waits or whether the server answers. */
  moved(): void;
}

export interface Outbox {
  /** Kept on the disk when it resolves; on its way to the server from then on. */
  put(edit: KeptEdit): Promise<void>;
  /** Takes up what this browser kept for a page. */
  takeUp(edits: readonly KeptEdit[]): void;
  /** Changes of one instrument that the server has not acknowledged, oldest first; of all instruments without an id. */
  waiting(instrument?: string): readonly KeptEdit[];
  /** Newest revision of the instrument that the server has acknowledged to this page; 0: none. */
  acknowledged(instrument: string): number;
  /** Whether the server did not answer the last time it was asked, and what it said if it did. */
  lost(): boolean;
  words(): string | null;
  sending(): boolean;
  /** The server is heard again: asks at once. */
  nudge(): void;
  /** Resolves when nothing of the instrument waits any more, or when the server is lost (false). */
  drained(instrument: string): Promise<boolean>;
}

/** Pauses between attempts, milliseconds; the last one repeats. */
const pauses = [500, 1000, 2000, 4000, 8000, 15_000];

/** Sends kept changes in order, each until the server has answered it. */
export function openOutbox(
  talk: ServerTalk,
  browser: BrowserStore,
  clock: BenchClock,
  ears: OutboxEars,
): Outbox {
  let queue: readonly KeptEdit[] = [];
  /** In the queue, but not yet on the disk: not to be sent. */
  const unwritten = new Set<string>();
  /** Tries in vain since the server last answered. */
  let vain = 0;
  let said: string | null = null;
  const newest = new Map<string, number>();
  let running = false;
  let pause: { cut(): void } | null = null;
  let drains: { instrument: string; tell: (sent: boolean) => void }[] = [];

  const waiting = (instrument?: string) =>
    instrument === undefined ? queue : queue.filter((edit) => edit.instrument === instrument);

  const tellDrained = (): void => {
    const over = drains.filter(({ instrument }) => vain > 0 || waiting(instrument).length === 0);
    drains = drains.filter((drain) => !over.includes(drain));
    for (const { instrument, tell } of over) tell(waiting(instrument).length === 0);
  };

  const replace = (gone: readonly string[], changed: readonly KeptEdit[]): void => {
    queue = queue
      .filter(({ id }) => !gone.includes(id))
      .map((edit) => changed.find(({ id }) => id === edit.id) ?? edit);
  };

  const acknowledge = async (edit: KeptEdit, saved: Saved): Promise<void> => {
    const freed = queue
      .filter(({ after }) => after === edit.id)
      .map((next) => ({ ...next, after: null, basis: saved.revision }));
    // In memory first and in one go, so that an edit made meanwhile finds what it comes on top of.
    replace([edit.id], freed);
    newest.set(edit.instrument, saved.revision);
    ears.acknowledged(edit, saved, waiting(edit.instrument).length);
    await browser.settle([edit.id], freed);
  };

  /** What came on top of it keeps the same basis, so the server sets it aside too: every state of the page is kept there. */
  const setAside = async (edit: KeptEdit, conflict: Conflict): Promise<void> => {
    const behind = followers(queue, edit.id);
    const kept = behind
      .filter(({ text }) => text !== null)
      .map((next): KeptEdit => ({ ...next, kind: "edit", basis: edit.basis, after: null, revision: null }));
    const gone = [edit, ...behind].map(({ id }) => id).filter((id) => !kept.some((next) => next.id === id));
    replace(gone, kept);
    ears.conflicted(edit, conflict);
    await browser.settle(gone, kept);
  };

  const strand = async (edit: KeptEdit, refusal: Refusal): Promise<void> => {
    const all = [edit, ...followers(queue, edit.id)];
    const stranded = all.flatMap(({ id, instrument, cause, at, text, kind }) =>
      text === null || kind !== "edit" ? [] : [{ id, instrument, cause, at, text, message: refusal.message }],
    );
    const gone = all.map(({ id }) => id);
    replace(gone, []);
    ears.refused(edit, refusal, stranded);
    await browser.settle(gone, [], stranded);
  };

  const run = async (): Promise<void> => {
    if (running) return;
    running = true;
    pause?.cut();
    pause = null;
    try {
      for (;;) {
        const edit = queue.find(({ id, after }) => after === null && !unwritten.has(id));
        if (edit === undefined) return;
        ears.moved();
        const answer = await sent(talk, edit);
        if (answer.is === "lost") {
          lose(answer.words);
          return;
        }
        vain = 0;
        said = null;
        if (answer.is === "done") await acknowledge(edit, answer.value);
        else if (answer.is === "conflict") await setAside(edit, answer.conflict);
        else await strand(edit, answer.refusal);
        tellDrained();
      }
    } catch {
      // The browser's own store failed in the middle: nothing is forgotten, the same change is sent again later.
      lose("This browser cannot write to its own store just now.");
    } finally {
      running = false;
      tellDrained();
      ears.moved();
    }
  };

  const lose = (words: string | null): void => {
    said = words;
    const wait = pauses[Math.min(vain, pauses.length - 1)] ?? 0;
    vain++;
    pause?.cut();
    pause = clock.after(wait, () => void run());
  };

  return {
    async put(edit) {
      queue = [...queue, edit];
      unwritten.add(edit.id);
      try {
        await browser.add(edit);
      } catch (error) {
        queue = queue.filter(({ id }) => id !== edit.id);
        throw error;
      } finally {
        unwritten.delete(edit.id);
      }
      if (vain === 0) void run();
      else ears.moved();
    },
    takeUp(edits) {
      const known = new Set([...queue, ...edits].map(({ id }) => id));
      const fresh = edits
        .filter(({ id }) => !queue.some((edit) => edit.id === id))
        // Without what it came on top of, only the server can tell: on the first revision it is a conflict, and kept.
        .map((edit) =>
          edit.after === null || known.has(edit.after)
            ? edit
            : { ...edit, after: null, basis: edit.basis ?? 1 },
        );
      queue = [...queue, ...fresh];
      void run();
    },
    waiting,
    acknowledged: (instrument) => newest.get(instrument) ?? 0,
    lost: () => vain > 0,
    words: () => said,
    sending: () => running,
    nudge() {
      void run();
    },
    drained(instrument) {
      if (waiting(instrument).length === 0) return Promise.resolve(true);
      if (vain > 0) return Promise.resolve(false);
      return new Promise((tell) => {
        drains.push({ instrument, tell });
      });
    },
  };
}

function sent(talk: ServerTalk, edit: KeptEdit): Promise<Said<Saved>> {
  const { id, instrument, cause } = edit;
  const basis = edit.basis ?? 0;
  if (edit.kind === "edit") return talk.edit(instrument, { id, basis, text: edit.text ?? "", cause });
  if (edit.kind === "restore")
    return talk.restore(instrument, { id, basis, revision: edit.revision ?? 0, cause });
  return talk[edit.kind](instrument, { id, basis });
}

/** Everything that waits for a change, also through others. */
function followers(queue: readonly KeptEdit[], id: string): readonly KeptEdit[] {
  return queue.filter(({ after }) => after === id).flatMap((next) => [next, ...followers(queue, next.id)]);
}
