import { create } from "zustand";
import { type InstrumentState, routes } from "#host/api";
import type { Bench } from "../bench/index.ts";
import { deskDeeds } from "../desk/deskDeeds.ts";
import { listenDeeds } from "./listen.ts";

/** Another state of the instrument, or another instrument, that may stand beside the one on the bench. */
export interface BesideChoice {
  readonly id: string;
  readonly name: string;
  /** Where its document's text is had from. */
  readonly address: string;
  /** Whether the answer is an instrument with its text in it, or the text itself. */
  readonly whole: boolean;
}

export interface ChosenBeside {
  readonly choice: BesideChoice | null;
  /** Its document, once it was fetched. */
  readonly text: string | null;
  readonly fault: string | null;
}

const nothing: ChosenBeside = { choice: null, text: null, fault: null };

/** What the maker has put beside the instrument on the bench. */
export const useBeside = create<ChosenBeside>()(() => nothing);

/** Keepsakes of the open instrument, the state before the last change, and the other instruments on the bench. */
export function besideChoices({ open, list }: Pick<Bench, "open" | "list">): readonly BesideChoice[] {
  if (open === null) return [];
  const keepsakes = open.keepsakes.map(({ id, name, revision }) => ({
    id,
    name: `keepsake: ${name}`,
    address: routes.revision(open.id, revision),
    whole: false,
  }));
  const before =
    open.revision > 1
      ? [
          {
            id: `revision ${open.revision - 1}`,
            name: "before the last change",
            address: routes.revision(open.id, open.revision - 1),
            whole: false,
          },
        ]
      : [];
  const others = (list ?? [])
    .filter(({ id, away }) => id !== open.id && !away)
    .map(({ id, name }) => ({ id, name, address: routes.instrument(id), whole: true }));
  return [...before, ...keepsakes, ...others];
}

/** Fetches the other document and has its voice computed beside this one's; null: nothing beside it any more. */
export async function putBeside(choice: BesideChoice | null): Promise<void> {
  useBeside.setState({ ...nothing, choice });
  if (choice === null) {
    deskDeeds.compare(null);
    listenDeeds.setBeside(null);
    return;
  }
  const text = await textAt(choice);
  if (useBeside.getState().choice !== choice) return;
  if (text === null) {
    useBeside.setState({ ...nothing, fault: `${choice.name} cannot be had from the server just now.` });
    deskDeeds.compare(null);
    listenDeeds.setBeside(null);
    return;
  }
  useBeside.setState({ text });
  deskDeeds.compare(text);
  listenDeeds.setBeside("beside");
}

async function textAt({ address, whole }: BesideChoice): Promise<string | null> {
  try {
    const answer = await fetch(address, { cache: "no-store" });
    if (!answer.ok) return null;
    return whole ? ((await answer.json()) as InstrumentState).text : await answer.text();
  } catch {
    return null;
  }
}
