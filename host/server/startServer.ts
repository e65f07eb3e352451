import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import { networkInterfaces } from "node:os";
import { fileURLToPath } from "node:url";
import { type Door, makeDoor, shopAddresses } from "#host/lan";
import { openStore, type Store } from "#host/store";
import { benchApp } from "./benchApp.ts";
import { type Events, openEvents } from "./events.ts";
import { readExamples } from "./examples.ts";
import { denied, loopbackNames } from "./guard.ts";
import { pageFiles } from "./pageFiles.ts";
import { browsersRefuse, listen, portsToTry, rememberPort } from "./ports.ts";
import { requestListener } from "./requestListener.ts";
import { securityHeaders } from "./securityHeaders.ts";

export interface ServerOptions {
  /** Folder of the store. */
  readonly folder: string;
  /** 0 for any that is free; not given: the one that this folder had last time if it is free, so that a page finds it again. */
  readonly port?: number;
  /** Folder of the built page. */
  readonly app?: string;
  readonly clock?: () => Date;
  /** Where the door to the shop's network may be opened; not given: this machine's addresses in private networks. */
  readonly addresses?: () => readonly string[];
  /** Takes a fault of our own, to be told where somebody reads it. */
  readonly fault?: (error: unknown) => void;
}

export interface RunningServer {
  /** "http://127.0.0.1:PORT/". */
  readonly address: string;
  readonly port: number;
  /** Answers what it has begun, then closes store and port. */
  close(): Promise<void>;
}

export type StartedServer =
  | { readonly ok: true; readonly server: RunningServer }
  | { readonly ok: false; readonly message: string; readonly address?: string };

/** Between two backups while changes come, milliseconds. */
const pauseBetweenBackups = 600_000;

/** The built page as it lies beside the sources, and beside a bundle that lies as deep. */
const builtPage = fileURLToPath(new URL("../../.out/app", import.meta.url));

/** Serves a folder's store and the page on the loopback address, or tells in words why not. */
export async function tryServer(options: ServerOptions): Promise<StartedServer> {
  const events = openEvents();
  const opened = openStore({
    folder: options.folder,
    clock: options.clock ?? (() => new Date()),
    noticed: (words) => events.send({ kind: "notice", words }),
  });
  if (!opened.ok) {
    events.close();
    return opened;
  }
  const { store } = opened;
  try {
    return { ok: true, server: await serveStore(store, events, options) };
  } catch (error) {
    events.close();
    await store.close();
    const code = (error as { code?: string }).code;
    if (code === "EADDRINUSE" || code === "EACCES")
      return {
        ok: false,
        message: `Port ${options.port} is not free (${code}); leave --port away for one that is.`,
      };
    throw error;
  }
}

/** The same for tools and tests, which have no use for a refusal. */
export async function startServer(options: ServerOptions): Promise<RunningServer> {
  const started = await tryServer(options);
  if (!started.ok) throw new Error(started.message);
  return started.server;
}

async function serveStore(store: Store, events: Events, options: ServerOptions): Promise<RunningServer> {
  const bench = {
    store,
    events,
    version: ownVersion(),
    examples: readExamples(),
    page: pageFiles(options.app ?? builtPage),
    fault: options.fault ?? console.error,
  };
  /** Answers whoever asks for one of these names; the door to the shop's network has one of its own, and "https". */
  const listenerFor = (names: () => ReadonlySet<string>, scheme: "http" | "https", own: Door | null) =>
    requestListener(benchApp({ ...bench, door: own, guard: (asking) => denied(asking, names(), scheme) }));
  const door = makeDoor({
    folder: store.folder,
    clock: options.clock ?? (() => new Date()),
    addresses: options.addresses ?? (() => shopAddresses(networkInterfaces())),
    answer: (host) => listenerFor(() => new Set([host]), "https", null),
    refused: browsersRefuse,
    headers: securityHeaders,
  });
  let names: ReadonlySet<string> = new Set();
  const server = createServer(listenerFor(() => names, "http", door));
  // a page that waited longer than this server's patience would have its next request cut off on a connection it took for open
  server.keepAliveTimeout = 120_000;
  const port = await listen(server, options.port === undefined ? portsToTry(store.folder) : [options.port]);
  names = loopbackNames(port);
  if (options.port === undefined) rememberPort(store.folder, port);
  const address = `http://127.0.0.1:${port}/`;
  store.tellAddress(address);
  const backUp = (pause: number) => void store.backupIfDue(pause).catch(bench.fault);
  const backups = setInterval(backUp, 60_000, pauseBetweenBackups);
  backups.unref();
  backUp(0);
  return {
    address,
    port,
    close: async () => {
      clearInterval(backups);
      events.close();
      await door.close();
      await new Promise<void>((resolve) => {
        // a connection is idle only when its last answer is through
        const idle = setInterval(() => server.closeIdleConnections(), 20);
        const patience = setTimeout(() => server.closeAllConnections(), 2000);
        server.close(() => {
          clearInterval(idle);
          clearTimeout(patience);
          resolve();
        });
      });
      await store.close();
    },
  };
}

function ownVersion(): string {
  const about = readFileSync(new URL("../../package.json", import.meta.url), "utf8");
  return (JSON.parse(about) as { version: string }).version;
}
