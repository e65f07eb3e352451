import type { Preferences, BenchState as ServerState } from "#host/api";
import { accepted, type BenchParts, refusedBy } from "./benchParts.ts";
import type { EditAnswer } from "./benchTypes.ts";

export interface Frame {
  /** Asks for list, examples, preferences and notices; while the server is away, what this browser saw last. */
  refresh(): Promise<void>;
  prefer(preferences: Preferences): Promise<void>;
  putAway(id: string, away: boolean): Promise<EditAnswer>;
  bringIn(file: Blob): Promise<EditAnswer>;
  notice(words: string): void;
}

/** What stands round the open instrument. */
export function openFrame({ store, talk, browser }: BenchParts): Frame {
  let unsent: Preferences | null = null;
  let bench: ServerState | null = null;

  const show = (state: ServerState): void => {
    bench = state;
    const { instruments, examples, notices, preferences } = state;
    store.setState({ list: instruments, examples, notices, preferences: unsent ?? preferences });
  };
  const keep = (): Promise<void> =>
    // Only a convenience while the server is away: a browser that cannot write loses nothing that counts.
    browser.seeFrame({ bench, unsentPreferences: unsent }).catch(() => {});

  const refresh = async (): Promise<void> => {
    const said = await talk.bench();
    if (said.is === "done") {
      if (bench === null) unsent = (await browser.frame().catch(() => null))?.unsentPreferences ?? unsent;
      show(said.value);
      if (unsent !== null && (await talk.prefer(unsent)).is !== "lost") unsent = null;
      await keep();
      return;
    }
    if (bench !== null) return;
    const seen = await browser.frame().catch(() => null);
    unsent = seen?.unsentPreferences ?? null;
    if (seen?.bench) show(seen.bench);
  };

  return {
    refresh,
    async prefer(preferences) {
      store.setState({ preferences });
      unsent = preferences;
      const said = await talk.prefer(preferences);
      if (said.is !== "lost" && unsent === preferences) unsent = null;
      await keep();
    },
    async putAway(id, away) {
      const said = await talk.putAway(id, away);
      if (said.is !== "done") return refusedBy(said);
      await refresh();
      return accepted;
    },
    async bringIn(file) {
      const said = await talk.bringIn(file);
      if (said.is !== "done") return refusedBy(said);
      await refresh();
      return accepted;
    },
    notice(words) {
      const { notices } = store.getState();
      if (!notices.includes(words)) store.setState({ notices: [...notices, words] });
    },
  };
}
