import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import type { Server } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";

/** Ports above 1023 that browsers refuse to open (WHATWG Fetch, "bad port"; from memory). */
const refused = new Set([
  1719, 1720, 1723, 2049, 3659, 4045, 4190, 5060, 5061, 6000, 6566, 6665, 6666, 6667, 6668, 6669, 6679, 6697,
  10080,
]);

export const browsersRefuse = (port: number): boolean => port < 1024 || refused.has(port);

/**
 * Ports to try for a folder, in order. A browser keeps unsent edits by the address of the page, port and all, so a folder should
 * be found at the same one again: the one of last time, else some of its own below those that systems give to outgoing
 * connections, else any.
 */
export function portsToTry(folder: string): readonly number[] {
  const own = 20_000 + (createHash("sha256").update(folder).digest().readUInt32BE(0) % 10_000);
  const some = Array.from({ length: 8 }, (_, i) => own + i);
  const last = lastPort(folder);
  return [...(last === null ? [] : [last]), ...some, 0].filter((port) => port === 0 || !browsersRefuse(port));
}

const portFile = (folder: string): string => join(folder, "port.txt");

export function rememberPort(folder: string, port: number): void {
  if (lastPort(folder) !== port) writeFileSync(portFile(folder), `${port}\n`);
}

function lastPort(folder: string): number | null {
  try {
    const port = Number(readFileSync(portFile(folder), "utf8"));
    return Number.isInteger(port) && port >= 1024 && port <= 65_535 ? port : null;
  } catch {
    return null;
  }
}

/** Listens on the first of the ports that is free on the loopback address, and gives it; throws the last one's error. */
export async function listen(server: Server, ports: readonly number[]): Promise<number> {
  let last: unknown;
  for (const port of ports) {
    try {
      const got = await listenOn(server, port);
      if (port !== 0 || !browsersRefuse(got)) return got;
      await new Promise((resolve) => server.close(resolve));
      return await listen(server, [0]);
    } catch (error) {
      last = error;
    }
  }
  throw last;
}

const listenOn = (server: Server, port: number): Promise<number> =>
  new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, "127.0.0.1", () => {
      server.off("error", reject);
      resolve((server.address() as AddressInfo).port);
    });
  });
