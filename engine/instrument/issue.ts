/** One fault in the maker's data: where it is, what was found, what is allowed, and what would mend it. */
export interface Issue {
  /** Stable word for the kind of fault, "unknown-key". */
  readonly code: string;
  /** Place in the document, "top.braces[2].width"; empty for the document as a whole. */
  readonly path: string;
  /** One or two plain sentences. */
  readonly message: string;
  readonly found?: string;
  readonly allowed?: string;
  readonly example?: string;
  readonly remedy?: string;
  readonly severity: "stop" | "watch";
  /** Place in the text, counted from 1, when the text is at hand. */
  readonly line?: number;
  readonly column?: number;
}

/** A fault that must be mended before anything is computed. */
export function stop(code: string, path: string, message: string, rest: Partial<Issue> = {}): Issue {
  return { code, path, message, ...rest, severity: "stop" };
}

/** Something worth a look that stops nothing. */
export function watch(code: string, path: string, message: string, rest: Partial<Issue> = {}): Issue {
  return { code, path, message, ...rest, severity: "watch" };
}
