import { join } from "node:path";

/** Where a maker's instruments lie unless said otherwise, by the custom of each system (XDG Base Directory on the others). */
export function storeFolder(
  platform: NodeJS.Platform,
  home: string,
  environment: Readonly<Record<string, string | undefined>>,
): string {
  const said = environment["FAIRBOUT_FOLDER"];
  if (said !== undefined && said !== "") return said;
  if (platform === "darwin") return join(home, "Library", "Application Support", "Fairbout");
  if (platform === "win32")
    return join(environment["APPDATA"] ?? join(home, "AppData", "Roaming"), "Fairbout");
  // a relative XDG_DATA_HOME is to be passed over
  const data = environment["XDG_DATA_HOME"];
  return join(data?.startsWith("/") ? data : join(home, ".local", "share"), "fairbout");
}
