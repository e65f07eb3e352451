import { spawn } from "node:child_process";
import { homedir } from "node:os";
import { resolve } from "node:path";
import { storeFolder, tryServer } from "#host/server";
import { type Answer, refusal } from "./answer.ts";
import { readyExample } from "./readyExample.ts";

export interface ServeOptions {
  readonly folder?: string;
  readonly port?: string;
  readonly open?: boolean;
  /** Laid on a bench that holds nothing yet. */
  readonly example?: string;
}

/** `fairbout serve`: the bench on this machine's own address, until it is told to end. */
export async function serve(options: ServeOptions): Promise<Answer> {
  const port = options.port === undefined ? undefined : Number(options.port);
  if (port !== undefined && !(Number.isInteger(port) && port >= 1024 && port <= 65535)) {
    return refusal(
      "serve",
      [{ path: "--port", message: "this is no port", allowed: "a whole number from 1024 to 65535" }],
      false,
    );
  }
  const folder = resolve(options.folder ?? storeFolder(process.platform, homedir(), process.env));
  const started = await tryServer({ folder, ...(port === undefined ? {} : { port }) });
  if (!started.ok) {
    // whoever starts it twice wants to see it
    if (started.address !== undefined && options.open) openInBrowser(started.address);
    return refusal(folder, [{ path: "", message: started.message }], false);
  }
  const { server } = started;
  const page =
    options.example === undefined ? server.address : await readyExample(server.address, options.example);
  process.stdout.write(`The bench is open at ${page}\nInstruments lie in ${folder}\nCtrl+C closes it.\n`);
  if (options.open) openInBrowser(page);
  await new Promise<void>((end) => {
    for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.once(signal, () => end());
  });
  await server.close();
  return { status: 0, out: "", err: "" };
}

/** Asks the system to show the page; the address is printed anyhow, so that nothing hangs on it. */
function openInBrowser(address: string): void {
  const { platform, env } = process;
  if (platform === "linux" && env["DISPLAY"] === undefined && env["WAYLAND_DISPLAY"] === undefined) return;
  const [command, ...words] =
    platform === "darwin"
      ? ["open", address]
      : platform === "win32"
        ? ["cmd", "/c", "start", "", address]
        : ["xdg-open", address];
  const opener = spawn(command as string, words, { stdio: "ignore", detached: true });
  opener.on("error", () => {});
  opener.unref();
}
