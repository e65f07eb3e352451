import type { BrowserStore, KeptEdit } from "./keptEdits.ts";

const lockName = (page: string): string => `fairbout-page-${page}`;

/** Shows other pages of this browser that this one lives: the lock is let go when the page is closed or crashes. */
export function holdLife(page: string): Promise<void> {
  return new Promise((held) => {
    void navigator.locks.request(lockName(page), () => {
      held();
      return new Promise<never>(() => {});
    });
  });
}

/** Edits of pages that were closed before the server had them: from now on they are this page's. */
export async function orphanedEdits(page: string, browser: BrowserStore): Promise<readonly KeptEdit[]> {
  const others = new Set((await browser.list()).map((edit) => edit.page));
  others.delete(page);
  for (const other of others)
    await navigator.locks.request(lockName(other), { ifAvailable: true }, async (lock) => {
      if (lock !== null) await browser.adopt(other, page);
    });
  return (await browser.list()).filter((edit) => edit.page === page);
}
