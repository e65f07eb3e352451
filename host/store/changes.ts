import type { Database } from "better-sqlite3";
import type { Conflict, Edit, InstrumentState, NewInstrument, Restore, Saved, Step } from "#host/api";
import { absent, instrumentState, setAside } from "./instruments.ts";
import { type Kept, kept, troubled } from "./kept.ts";
import {
  append,
  currentRevision,
  type Revision,
  redoTarget,
  revisionNumbered,
  revisionOfRequest,
  type Standing,
  saved,
  undoTarget,
} from "./revisions.ts";
import { type CheckedText, checkedText, keepText, readText, sha256 } from "./texts.ts";
import { write } from "./write.ts";

/** Who asks, and when. */
export interface Asked {
  /** The page's own id. */
  readonly page: string;
  /** ISO 8601, UTC. */
  readonly at: string;
}

/** A change was done, or another page had been first. */
export type Changed =
  | { readonly done: true; readonly saved: Saved }
  | { readonly done: false; readonly conflict: Conflict };

const done = (answer: Saved): Kept<Changed> => kept({ done: true, saved: answer });

/** What tells one request from another that wrongly bears its id. */
const digestOf = (kind: Revision["kind"], basis: number, what: string, cause: string): string =>
  sha256(JSON.stringify([kind, basis, what, cause]));

const idUsed = (id: string) =>
  troubled("id-used", `The id ${id} was used before for something else: what was sent now was not saved.`);

/** Makes an instrument; sent again with the same id and text, it answers with the instrument as it stands. */
export function makeInstrument(database: Database, asked: Asked, what: NewInstrument): Kept<InstrumentState> {
  const checked = checkedText(database, what.text);
  if (!checked.ok) return checked;
  const text = checked.value;
  const sent = digestOf("made", 0, text.sha256, what.cause);
  return write(database, () => {
    const before = revisionNumbered(database, what.id, 1);
    if (before !== undefined) {
      return before.sent === sent ? instrumentState(database, what.id) : idUsed(what.id);
    }
    database.prepare("insert into instruments (id, made) values (?, ?)").run(what.id, asked.at);
    keepText(database, text);
    append(database, {
      ...standing(what.id, asked, "made", what.cause, what.id, sent, 0, text.sha256),
      parent: null,
    });
    return instrumentState(database, what.id);
  });
}

/** One edit. On a stale basis what was sent is kept as a revision that is not current, and the conflict is told. */
export function editInstrument(
  database: Database,
  asked: Asked,
  instrument: string,
  what: Edit,
): Kept<Changed> {
  if (currentRevision(database, instrument) === undefined) return absent(instrument);
  const checked = checkedText(database, what.text);
  if (!checked.ok) return checked;
  const text = checked.value;
  return write(database, () => {
    const current = theCurrent(database, instrument);
    const sent = digestOf("edit", what.basis, text.sha256, what.cause);
    const before = revisionOfRequest(database, instrument, what.id);
    if (before !== undefined) return answeredBefore(database, before, sent, false);
    keepText(database, text);
    if (what.basis !== current.number) {
      const aside = append(database, {
        ...standing(instrument, asked, "aside", what.cause, what.id, sent, what.basis, text.sha256),
        parent: null,
      });
      return conflict(database, aside);
    }
    const row = append(database, {
      ...standing(instrument, asked, "edit", what.cause, what.id, sent, what.basis, text.sha256),
      parent: current.state,
    });
    return done(saved(database, asStanding(row)));
  });
}

/** Undo or redo: a revision of its own, which stands in a state that was current before. */
export function stepInstrument(
  database: Database,
  asked: Asked,
  instrument: string,
  kind: "undo" | "redo",
  what: Step,
): Kept<Changed> {
  return write(database, () => {
    const current = currentRevision(database, instrument);
    if (current === undefined) return absent(instrument);
    const sent = digestOf(kind, what.basis, "", "");
    const before = revisionOfRequest(database, instrument, what.id);
    if (before !== undefined) return answeredBefore(database, before, sent, true);
    if (what.basis !== current.number) return conflict(database, null, instrument);
    const target = kind === "undo" ? undoTarget(database, current) : redoTarget(database, current);
    if (target === undefined) {
      return kind === "undo"
        ? troubled("nothing-to-undo", "There is nothing to undo: this is the instrument as it was made.")
        : troubled("nothing-to-redo", "There is nothing to redo.");
    }
    const text = currentAgain(database, target);
    if (!text.ok) return text;
    const cause = kind === "undo" ? `undo: ${stateCause(database, current)}` : `redo: ${target.cause}`;
    const row = append(database, {
      ...standing(instrument, asked, kind, cause, what.id, sent, what.basis, target.text),
      state: target.state,
      parent: target.parent,
    });
    return done(saved(database, asStanding(row), text.value.text));
  });
}

/** Makes an old revision, or one set aside, the current one, as a new state on top of the present one. */
export function restoreRevision(
  database: Database,
  asked: Asked,
  instrument: string,
  what: Restore,
): Kept<Changed> {
  return write(database, () => {
    const current = currentRevision(database, instrument);
    if (current === undefined) return absent(instrument);
    const sent = digestOf("restore", what.basis, String(what.revision), what.cause);
    const before = revisionOfRequest(database, instrument, what.id);
    if (before !== undefined) return answeredBefore(database, before, sent, true);
    if (what.basis !== current.number) return conflict(database, null, instrument);
    const old = revisionNumbered(database, instrument, what.revision);
    if (old === undefined)
      return troubled("absent", `There is no revision ${what.revision} of instrument ${instrument}.`);
    const text = currentAgain(database, old);
    if (!text.ok) return text;
    const row = append(database, {
      ...standing(instrument, asked, "restore", what.cause, what.id, sent, what.basis, old.text),
      parent: current.state,
    });
    return done(saved(database, asStanding(row), text.value.text));
  });
}

/** A text that becomes current again: one brought in by a file has yet to pass the check. */
function currentAgain(database: Database, row: Revision): Kept<CheckedText> {
  const checked = checkedText(database, readText(database, row.text));
  if (checked.ok) keepText(database, checked.value);
  return checked;
}

function answeredBefore(
  database: Database,
  before: Revision,
  sent: string,
  withText: boolean,
): Kept<Changed> {
  if (before.sent !== sent) return idUsed(before.request);
  if (before.kind === "aside") return conflict(database, before);
  return done(saved(database, asStanding(before), withText ? readText(database, before.text) : undefined));
}

function conflict(database: Database, aside: Revision | null, instrument = aside?.instrument): Kept<Changed> {
  if (instrument === undefined) throw new Error("a conflict is about an instrument");
  const current = instrumentState(database, instrument);
  if (!current.ok) return current;
  const message =
    aside === null
      ? "Another page was first: nothing was changed. Look at the instrument as it stands now."
      : "Another page was first. Both are kept: the instrument stands as it was changed there, and yours is set aside.";
  return kept({
    done: false,
    conflict: {
      code: "conflict",
      message,
      current: current.value,
      aside: aside === null ? null : setAside(aside),
    },
  });
}

const standing = (
  instrument: string,
  asked: Asked,
  kind: Revision["kind"],
  cause: string,
  request: string,
  sent: string,
  basis: number,
  text: string,
): Omit<Revision, "number" | "parent"> => ({
  instrument,
  ...asked,
  kind,
  cause,
  request,
  sent,
  basis,
  text,
  state: null,
});

function theCurrent(database: Database, instrument: string): Standing {
  const current = currentRevision(database, instrument);
  if (current === undefined) throw new Error(`instrument ${instrument} has no current revision`);
  return current;
}

function asStanding(row: Revision): Standing {
  if (row.state === null) throw new Error(`revision ${row.number} was set aside`);
  return { ...row, state: row.state };
}

const stateCause = (database: Database, row: Standing): string =>
  revisionNumbered(database, row.instrument, row.state)?.cause ?? row.cause;
