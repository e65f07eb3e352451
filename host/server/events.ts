import type { BenchEvent } from "#host/api";

/** Tells every open page what another one did. */
export interface Events {
  send(event: BenchEvent): void;
  /** A stream of server-sent events (HTML Standard, section 9.2), until the page or the server ends it. */
  stream(): ReadableStream<Uint8Array>;
  close(): void;
}

/** A proxy or a sleeping laptop may drop a silent connection: a comment now and then shows that it lives. */
const breath = 20_000;

export function openEvents(): Events {
  const pages = new Set<ReadableStreamDefaultController<Uint8Array>>();
  const encoder = new TextEncoder();
  const toAll = (text: string) => {
    for (const page of pages) {
      // a page that has not read a thousand events is no longer there
      if ((page.desiredSize ?? 0) < -1000) {
        pages.delete(page);
        page.close();
      } else page.enqueue(encoder.encode(text));
    }
  };
  const timer = setInterval(toAll, breath, ":\n\n");
  timer.unref();
  return {
    send: (event) => {
      toAll(`data: ${JSON.stringify(event)}\n\n`);
    },
    stream: () => {
      let mine: ReadableStreamDefaultController<Uint8Array>;
      return new ReadableStream<Uint8Array>({
        start: (controller) => {
          mine = controller;
          pages.add(controller);
          controller.enqueue(encoder.encode("retry: 1000\n\n"));
        },
        cancel: () => {
          pages.delete(mine);
        },
      });
    },
    close: () => {
      clearInterval(timer);
      for (const page of pages) page.close();
      pages.clear();
    },
  };
}
