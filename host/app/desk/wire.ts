/** The wire between the page and one of its desk workers. Plain data. */
export type ToDesk =
  | {
      readonly ask: number;
      readonly kind: string;
      readonly input: unknown;
      /** One shared number, not 0 once it is called off; null where memory cannot be shared. */
      readonly callOff: Int32Array | null;
    }
  | { readonly callOff: number };

export type FromDesk =
  | { readonly ask: number; readonly says: "progress"; readonly fraction: number; readonly words: string }
  | { readonly ask: number; readonly says: "answer"; readonly value: unknown }
  | { readonly ask: number; readonly says: "fault"; readonly fault: string };

/** What a duty may tell while it works, and whether it is still wanted. */
export interface Watch {
  tell(fraction: number, words: string): void;
  cancelled(): boolean;
}

/** What a worker does when it is asked, by kind. */
export type Duties = Readonly<Record<string, (input: never, watch: Watch) => unknown>>;
export type DutyKind<D extends Duties> = keyof D & string;
export type DutyInput<D extends Duties, K extends DutyKind<D>> = Parameters<D[K]>[0];
export type DutyAnswer<D extends Duties, K extends DutyKind<D>> = Awaited<ReturnType<D[K]>>;
