/**
 * A page that edits one instrument over HTTP and keeps its own account of what the server acknowledged: two plain stacks for undo
 * and redo, and the list of revisions. It sends one request at a time and, like the page's outbox, sends again what was not
 * answered, under the same id.
 */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pageHeader, type Saved } from "#host/api";

const ladder = readFileSync(
  join(import.meta.dirname, "..", "..", "examples", "small-ladder.fairbout.json"),
  "utf8",
);

/** A valid document; another for every number. */
const documentNumber = (n: number): string => ladder.replace('"Small ladder"', `"Small ladder ${n}"`);

export const sha256 = (content: string | Uint8Array): string =>
  createHash("sha256").update(content).digest("hex");

interface State {
  readonly text: string;
  readonly cause: string;
}

interface Acknowledged {
  readonly number: number;
  readonly kind: string;
  readonly cause: string;
  readonly text: string;
}

interface Sent {
  readonly path: string;
  readonly body: string | Uint8Array;
  /** Notes the answer; tells what is wrong with it, or null. */
  readonly settle: (answer: unknown) => string | null;
}

export interface Outbox {
  readonly instrument: string;
  /** Every revision that was acknowledged. */
  readonly log: readonly Acknowledged[];
  /** SHA-256 of every attachment that was acknowledged. */
  readonly attached: ReadonlySet<string>;
  readonly unanswered: boolean;
  /** Sends the next thing, or again what was not answered; throws when the server is gone. Faults of the answer are words. */
  send(address: string): Promise<string | null>;
  /** What the server should show now. */
  readonly expected: () => { revision: number; text: string; undo: string | null; redo: string | null };
}

export function makeOutbox(instrument: string, random: () => number): Outbox {
  const done: State[] = [];
  const undone: State[] = [];
  const log: Acknowledged[] = [];
  const attached = new Set<string>();
  let ids = 0;
  let fresh = 0;
  let unanswered: Sent | null = null;

  const newId = () => {
    ids += 1;
    return `${instrument.slice(0, 24)}${String(ids).padStart(12, "0")}`;
  };
  const expected = () => ({
    revision: log.length,
    text: done.at(-1)?.text ?? "",
    undo: done.length > 1 ? (done.at(-1)?.cause ?? null) : null,
    redo: undone.at(-1)?.cause ?? null,
  });
  const settled = (kind: string, cause: string, answer: unknown): string | null => {
    log.push({ number: log.length + 1, kind, cause, text: sha256(done.at(-1)?.text ?? "") });
    const { revision, undo, redo } = answer as Saved;
    const { text: _, ...should } = expected();
    const found = { revision, undo, redo };
    return JSON.stringify(found) === JSON.stringify(should)
      ? null
      : `${kind} answered ${JSON.stringify(found)}, not ${JSON.stringify(should)}`;
  };

  const begin = (): Sent => {
    const text = documentNumber(0);
    return {
      path: "/api/instruments",
      body: JSON.stringify({ id: instrument, text, cause: "begun" }),
      settle: (answer) => {
        done.push({ text, cause: "begun" });
        return settled("made", "begun", answer);
      },
    };
  };
  const edit = (): Sent => {
    // most texts the store has seen before: an unseen one takes the engine's check, far longer than the write
    const unseen = fresh < 3 || random() < 0.02;
    if (unseen) fresh += 1;
    const text = documentNumber(unseen ? fresh : 1 + Math.floor(random() * fresh));
    const cause = `edit ${ids}`;
    return {
      path: `/api/instruments/${instrument}/edits`,
      body: JSON.stringify({ id: newId(), basis: log.length, text, cause }),
      settle: (answer) => {
        done.push({ text, cause });
        undone.length = 0;
        return settled("edit", cause, answer);
      },
    };
  };
  const step = (kind: "undo" | "redo", from: State[], to: State[]): Sent => ({
    path: `/api/instruments/${instrument}/${kind}`,
    body: JSON.stringify({ id: newId(), basis: log.length }),
    settle: (answer) => {
      const state = from.pop();
      if (state === undefined) return `${kind} of nothing`;
      to.push(state);
      return settled(kind, `${kind}: ${state.cause}`, answer);
    },
  });
  const attach = (): Sent => {
    const body = Buffer.alloc(20_000, Math.floor(random() * 1e9).toString(36));
    return {
      path: `/api/instruments/${instrument}/attachments?name=tap.wav`,
      body,
      settle: (answer) => {
        attached.add(sha256(body));
        return (answer as { sha256?: string }).sha256 === sha256(body) ? null : "another digest";
      },
    };
  };
  const next = (): Sent => {
    if (log.length === 0) return begin();
    const kind = random();
    if (kind < 0.22 && done.length > 1) return step("undo", done, undone);
    if (kind < 0.36 && undone.length > 0) return step("redo", undone, done);
    return kind > 0.95 ? attach() : edit();
  };

  return {
    instrument,
    log,
    attached,
    expected,
    get unanswered() {
      return unanswered !== null;
    },
    async send(address) {
      unanswered ??= next();
      const { path, body, settle } = unanswered;
      const response = await fetch(`${address.replace(/\/$/, "")}${path}`, {
        method: "POST",
        headers: {
          [pageHeader]: "outbox",
          "content-type": typeof body === "string" ? "application/json" : "audio/wav",
        },
        body,
      });
      const answer: unknown = await response.json();
      unanswered = null;
      return response.ok ? settle(answer) : `${path} answered ${response.status}: ${JSON.stringify(answer)}`;
    },
  };
}
