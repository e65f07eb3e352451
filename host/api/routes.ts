/**
 * Every route, as the page calls it. All are below /api on the server that the page came from; ids are UUIDs.
 * Each changing request carries the header `fairbout-page` (a random id of the page; the server repeats it in events as `by`),
 * which a foreign site cannot send without a preflight that is refused.
 *
 *   GET  /api/bench                                 BenchState
 *   GET  /api/examples/FILE                         the document's text
 *   POST /api/instruments            NewInstrument  InstrumentState      201
 *   GET  /api/instruments/ID                        InstrumentState
 *   POST /api/instruments/ID/edits   Edit           Saved | Conflict 409 | Refusal 422
 *   POST /api/instruments/ID/undo    Step           Saved | Conflict 409
 *   POST /api/instruments/ID/redo    Step           Saved | Conflict 409
 *   POST /api/instruments/ID/restore Restore        Saved | Conflict 409
 *   POST /api/instruments/ID/keepsakes NewKeepsake  Keepsake 201
 *   PUT  /api/instruments/ID/away    PutAway        InstrumentCard
 *   GET  /api/instruments/ID/history?before=N       RevisionLine[]       200 at most
 *   GET  /api/instruments/ID/revisions/N            the document's text
 *   POST /api/instruments/ID/attachments?name=NAME  bytes -> Attachment 201
 *   GET  /api/instruments/ID/attachments/ID         bytes
 *   GET  /api/results/KEY, PUT /api/results/KEY     bytes; KEY: 1 to 80 of [a-z0-9-]
 *   GET  /api/preferences, PUT /api/preferences     Preferences
 *   GET  /api/backups, POST /api/backups            Backup[]; Backup 201
 *   GET  /api/archive[?instrument=ID]               one file with everything
 *   POST /api/archive                bytes          { instruments: InstrumentCard[] }: added beside what is there
 *   GET  /api/lan, POST /api/lan     LanDeed        LanState              on the loopback address alone
 *   GET  /api/events                                server-sent BenchEvent
 */
export const routes = {
  bench: "/api/bench",
  example: (file: string) => `/api/examples/${encodeURIComponent(file)}`,
  instruments: "/api/instruments",
  instrument: (id: string) => `/api/instruments/${id}`,
  edits: (id: string) => `/api/instruments/${id}/edits`,
  undo: (id: string) => `/api/instruments/${id}/undo`,
  redo: (id: string) => `/api/instruments/${id}/redo`,
  restore: (id: string) => `/api/instruments/${id}/restore`,
  keepsakes: (id: string) => `/api/instruments/${id}/keepsakes`,
  away: (id: string) => `/api/instruments/${id}/away`,
  history: (id: string, before?: number) =>
    `/api/instruments/${id}/history${before === undefined ? "" : `?before=${before}`}`,
  revision: (id: string, revision: number) => `/api/instruments/${id}/revisions/${revision}`,
  attachments: (id: string, name: string) =>
    `/api/instruments/${id}/attachments?name=${encodeURIComponent(name)}`,
  attachment: (id: string, attachment: string) => `/api/instruments/${id}/attachments/${attachment}`,
  result: (key: string) => `/api/results/${key}`,
  preferences: "/api/preferences",
  backups: "/api/backups",
  archive: (instrument?: string) =>
    `/api/archive${instrument === undefined ? "" : `?instrument=${instrument}`}`,
  lan: "/api/lan",
  events: "/api/events",
} as const;

/** Header of every changing request: the page's own random id. */
export const pageHeader = "fairbout-page";
