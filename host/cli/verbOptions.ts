/** Options that several verbs share. */
export interface VerbOptions {
  readonly json?: boolean;
  readonly out?: string;
}
