import { readFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import { getRequestListener } from "@hono/node-server";
import { openStore, type Store } from "#host/store";
import { benchApp } from "./benchApp.ts";
import { openEvents } from "./events.ts";
import { readExamples } from "./examples.ts";
import { denied, loopbackNames } from "./guard.ts";
import { browsersRefuse } from "./refusedPorts.ts";
import { securityHeaders } from "./securityHeaders.ts";

export interface ServerOptions {
  /** Folder of the store. */
  readonly folder: string;
  /** 0 for any that is free; not given: the one that this folder had last time if it is free, so that a page finds it again. */
  readonly port?: number;
  /** Folder of the built page. */
  readonly app?: string;
  readonly clock?: () => Date;
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

/** The built page as it lies beside the sources, and beside a bundle that lies as deep. */
const builtPage = fileURLToPath(new URL("../../.out/app", import.meta.url));

/** Serves a folder's store and the page on the loopback address, or tells in words why not. */
export async function tryServer(options: ServerOptions): Promise<StartedServer> {
  const opened = openStore({ folder: options.folder, clock: options.clock ?? (() => new Date()) });
  if (!opened.ok) return opened;
  const { store } = opened;
  try {
    return { ok: true, server: await serveStore(store, options) };
  } catch (error) {
    store.close();
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

async function serveStore(store: Store, options: ServerOptions): Promise<RunningServer> {
  const events = openEvents();
  let names: ReadonlySet<string> = new Set();
  const app = benchApp({
    store,
    events,
    version: ownVersion(),
    examples: readExamples(),
    app: options.app ?? builtPage,
    guard: (asking) => denied(asking, names, "http"),
    fault: options.fault ?? console.error,
  });
  const listener = getRequestListener(app.fetch, {
    overrideGlobalObjects: false,
    errorHandler: () =>
      new Response(
        JSON.stringify({ code: "request", message: "This is no request this server understands." }),
        {
          status: 400,
          headers: { ...securityHeaders, "content-type": "application/json" },
        },
      ),
  });
  const server = createServer((incoming, outgoing) => void listener(incoming, outgoing));
  const port = await listenOn(server, options.port ?? 0);
  names = loopbackNames(port);
  const address = `http://127.0.0.1:${port}/`;
  store.tellAddress(address);
  return {
    address,
    port,
    close: async () => {
      events.close();
      await new Promise<void>((resolve) => {
        server.close(() => resolve());
        server.closeIdleConnections();
        setTimeout(() => server.closeAllConnections(), 2000).unref();
      });
      store.close();
    },
  };
}

/** Listens on the loopback address and gives the port; a free one is asked for again while browsers would refuse it. */
async function listenOn(server: Server, port: number): Promise<number> {
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, "127.0.0.1", () => {
      server.off("error", reject);
      resolve();
    });
  });
  const got = (server.address() as AddressInfo).port;
  if (port !== 0 || !browsersRefuse(got)) return got;
  await new Promise((resolve) => server.close(resolve));
  return listenOn(server, 0);
}

function ownVersion(): string {
  const about = readFileSync(new URL("../../package.json", import.meta.url), "utf8");
  return (JSON.parse(about) as { version: string }).version;
}
