import { type BenchEvent, routes } from "#host/api";

/** Pauses before the line is tried again, milliseconds; the last one repeats. */
const pauses = [500, 1000, 2000, 4000, 8000];

/** Keeps the line open on which the server tells what other pages did; tells when it is up and when it is gone. */
export function openServerLine(hear: (event: BenchEvent) => void, line: (up: boolean) => void): void {
  let vain = 0;
  const connect = (): void => {
    const source = new EventSource(routes.events);
    source.onopen = () => {
      vain = 0;
      line(true);
    };
    source.onmessage = ({ data }) => {
      const event = benchEvent(String(data));
      if (event !== null) hear(event);
    };
    source.onerror = () => {
      // Its own way of trying again ends after some kinds of answers and has no growing pauses.
      source.close();
      line(false);
      setTimeout(connect, pauses[Math.min(vain++, pauses.length - 1)]);
    };
  };
  connect();
}

/** An event of a newer server may be of a kind that this page does not know; it is passed over. */
function benchEvent(text: string): BenchEvent | null {
  try {
    const event = JSON.parse(text) as BenchEvent;
    return ["changed", "list", "notice"].includes(event.kind) ? event : null;
  } catch {
    return null;
  }
}
