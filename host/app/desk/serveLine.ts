import { packed } from "../../jobs/packed.ts";
import type { Duties, FromDesk, ToDesk, Watch } from "./wire.ts";

/** Least gap between two reports of progress, ms: nobody looks faster. */
const reportGap = 50;

/** What a worker finds as its own global scope. */
export interface DeskScope {
  readonly name: string;
  readonly location: { readonly href: string };
  readonly crossOriginIsolated: boolean;
  postMessage(message: unknown): void;
  onmessage: ((event: { readonly data: unknown }) => void) | null;
}

/** The worker's side of a line: does what it is asked. A duty that waits lets others begin meanwhile. */
export function serveLine(duties: Duties, scope: DeskScope): void {
  const wanted = new Map<number, Int32Array | null>();
  const send = (message: FromDesk): void => scope.postMessage(message);
  const begin = async (ask: number, kind: string, input: unknown): Promise<void> => {
    const flag = wanted.get(ask) ?? null;
    let last = 0;
    const watch: Watch = {
      cancelled: () => !wanted.has(ask) || (flag !== null && Atomics.load(flag, 0) !== 0),
      tell: (fraction, words) => {
        const now = Date.now();
        if (now - last < reportGap) return;
        last = now;
        send({ ask, says: "progress", fraction, words });
      },
    };
    try {
      const duty = duties[kind];
      if (duty === undefined) throw new Error(`this worker has no duty called "${kind}"`);
      const value = await duty(input as never, watch);
      send({ ask, says: "answer", value: packed(value, scope.crossOriginIsolated) });
    } catch (error) {
      // where it happened is for whoever mends it, not for the maker
      console.error(error);
      const [fault] = (error instanceof Error ? error.message : String(error)).split("\n");
      send({ ask, says: "fault", fault: fault ?? "" });
    } finally {
      wanted.delete(ask);
    }
  };
  scope.onmessage = ({ data }) => {
    const message = data as ToDesk;
    if ("ask" in message) {
      wanted.set(message.ask, message.callOff);
      void begin(message.ask, message.kind, message.input);
    } else wanted.delete(message.callOff);
  };
}
