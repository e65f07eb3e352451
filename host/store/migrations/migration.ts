/** One step of the store's schema, run in one transaction; never changed once released: a frozen sample holds it. */
export interface Migration {
  /** The version that the database has afterwards; steps are numbered without a gap from 1. */
  readonly version: number;
  readonly sql: string;
}
