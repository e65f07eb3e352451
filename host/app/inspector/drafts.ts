import { create } from "zustand";
import type { RefusedPlace } from "#host/api";

/** What was typed into a field and is not in the document: being typed, being looked at, or refused. */
export interface Draft {
  readonly text: string;
  /** Why it was refused; null: not refused (yet). */
  readonly issues: readonly RefusedPlace[] | null;
}

interface Drafts {
  /** By instrument and path. */
  readonly byField: { readonly [field: string]: Draft };
}

const keptIn = "fairbout-drafts";

/** They outlive closing a leaf, another stage and a reload: what was typed stays until it is mended or given up. */
export const useDrafts = create<Drafts>()(() => ({ byField: keptDrafts() }));

useDrafts.subscribe(({ byField }) => {
  try {
    sessionStorage.setItem(keptIn, JSON.stringify(byField));
  } catch {
    // A full session store: they then last as long as the page.
  }
});

function keptDrafts(): Drafts["byField"] {
  try {
    return JSON.parse(sessionStorage.getItem(keptIn) ?? "{}") as Drafts["byField"];
  } catch {
    return {};
  }
}

export const draftKey = (instrument: string, path: string): string => `${instrument} ${path}`;

export function putDraft(key: string, draft: Draft): void {
  useDrafts.setState(({ byField }) => ({ byField: { ...byField, [key]: draft } }));
}

export function dropDraft(key: string): void {
  useDrafts.setState(({ byField }) => {
    const { [key]: _, ...rest } = byField;
    return { byField: rest };
  });
}

/** Entries of a list moved: drafts go with their entries; those of an entry that is gone go too (`to` gives null). */
export function moveDrafts(instrument: string, listPath: string, to: (index: number) => number | null): void {
  const start = `${draftKey(instrument, listPath)}[`;
  useDrafts.setState(({ byField }) => ({
    byField: Object.fromEntries(
      Object.entries(byField).flatMap(([key, draft]) => {
        const match = key.startsWith(start) ? /^(\d+)(\].*)$/.exec(key.slice(start.length)) : null;
        if (match === null) return [[key, draft]];
        const index = to(Number(match[1]));
        return index === null ? [] : [[`${start}${index}${match[2]}`, draft]];
      }),
    ),
  }));
}
