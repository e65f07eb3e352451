import {
  type Attachment,
  type BenchState,
  type Conflict,
  type Edit,
  type InstrumentCard,
  type InstrumentState,
  type Keepsake,
  type NewInstrument,
  type NewKeepsake,
  type Preferences,
  pageHeader,
  type Refusal,
  type Restore,
  type RevisionLine,
  routes,
  type Saved,
  type Step,
} from "#host/api";

/** What came of asking the server. lost: no answer, or one that says it cannot do it now; the same may be asked again. */
export type Said<T> =
  | { readonly is: "done"; readonly value: T }
  | { readonly is: "conflict"; readonly conflict: Conflict }
  | { readonly is: "refused"; readonly refusal: Refusal }
  | { readonly is: "lost"; readonly words: string | null };

/** The server as the page speaks to it: every route of the contract that the bench needs. */
export interface ServerTalk {
  bench(): Promise<Said<BenchState>>;
  example(file: string): Promise<Said<string>>;
  state(id: string): Promise<Said<InstrumentState>>;
  begin(asked: NewInstrument): Promise<Said<InstrumentState>>;
  edit(instrument: string, asked: Edit): Promise<Said<Saved>>;
  undo(instrument: string, asked: Step): Promise<Said<Saved>>;
  redo(instrument: string, asked: Step): Promise<Said<Saved>>;
  restore(instrument: string, asked: Restore): Promise<Said<Saved>>;
  keep(instrument: string, asked: NewKeepsake): Promise<Said<Keepsake>>;
  putAway(instrument: string, away: boolean): Promise<Said<InstrumentCard>>;
  history(instrument: string, before: number | undefined): Promise<Said<readonly RevisionLine[]>>;
  revision(instrument: string, revision: number): Promise<Said<string>>;
  attach(instrument: string, name: string, bytes: Blob): Promise<Said<Attachment>>;
  prefer(preferences: Preferences): Promise<Said<Preferences>>;
  bringIn(file: Blob): Promise<Said<{ readonly instruments: readonly InstrumentCard[] }>>;
}

/** An answer that takes longer than this is taken for lost; what was sent is sent again, and done once. Milliseconds. */
const longestWait = 20_000;

export function serverTalk(ask: typeof fetch, page: string): ServerTalk {
  const said = async <T>(
    path: string,
    init: RequestInit,
    read: (r: Response) => Promise<T>,
  ): Promise<Said<T>> => {
    try {
      const response = await ask(path, { ...init, cache: "no-store", redirect: "error" });
      if (response.ok) return { is: "done", value: await read(response) };
      return await refusedOrLost(response);
    } catch {
      return { is: "lost", words: null };
    }
  };
  const text = (path: string) =>
    said(path, { signal: AbortSignal.timeout(longestWait) }, (response) => response.text());
  const get = <T>(path: string) =>
    said<T>(path, { signal: AbortSignal.timeout(longestWait) }, (response) => response.json() as Promise<T>);
  const send = <T>(method: string, path: string, body: unknown) =>
    said<T>(
      path,
      {
        method,
        headers: { "content-type": "application/json", [pageHeader]: page },
        body: JSON.stringify(body),
        signal: AbortSignal.timeout(longestWait),
      },
      (response) => response.json() as Promise<T>,
    );
  // A large file may take long; it is not sent again by itself.
  const bytes = <T>(path: string, body: Blob) =>
    said<T>(
      path,
      {
        method: "POST",
        headers: {
          "content-type": body.type === "" ? "application/octet-stream" : body.type,
          [pageHeader]: page,
        },
        body,
      },
      (response) => response.json() as Promise<T>,
    );
  return {
    bench: () => get(routes.bench),
    example: (file) => text(routes.example(file)),
    state: (id) => get(routes.instrument(id)),
    begin: (asked) => send("POST", routes.instruments, asked),
    edit: (id, asked) => send("POST", routes.edits(id), asked),
    undo: (id, asked) => send("POST", routes.undo(id), asked),
    redo: (id, asked) => send("POST", routes.redo(id), asked),
    restore: (id, asked) => send("POST", routes.restore(id), asked),
    keep: (id, asked) => send("POST", routes.keepsakes(id), asked),
    putAway: (id, away) => send("PUT", routes.away(id), { away: away ? "yes" : "no" }),
    history: (id, before) => get(routes.history(id, before)),
    revision: (id, revision) => text(routes.revision(id, revision)),
    attach: (id, name, body) => bytes(routes.attachments(id, name), body),
    prefer: (preferences) => send("PUT", routes.preferences, preferences),
    bringIn: (file) => bytes(routes.archive(), file),
  };
}

/**
 * Says nothing against what was sent (RFC 9110, 15.5; 429: RFC 6585): this page is not let in as it stands, or must wait.
 * The same goes for everything from 500 on; a full disk (507) is one of them.
 */
const laterStatuses: ReadonlySet<number> = new Set([401, 403, 408, 421, 429]);

async function refusedOrLost(response: Response): Promise<Said<never>> {
  const body = (await response.json().catch(() => null)) as Partial<Refusal> | null;
  const refusal: Refusal = {
    code: body?.code ?? `status-${response.status}`,
    message: body?.message ?? `The server answered with status ${response.status}.`,
    ...(body?.issues === undefined ? {} : { issues: body.issues }),
  };
  if (response.status === 409 && refusal.code === "conflict")
    return { is: "conflict", conflict: body as unknown as Conflict };
  if (response.status >= 500 || laterStatuses.has(response.status))
    return { is: "lost", words: refusal.message };
  return { is: "refused", refusal };
}
