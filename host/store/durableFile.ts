import { closeSync, constants, fsyncSync, openSync } from "node:fs";

/** Makes what a folder says of its files durable: after a rename the new name is on the disk. Windows has no such call. */
export function syncFolder(folder: string): void {
  if (process.platform === "win32") return;
  const handle = openSync(folder, constants.O_RDONLY);
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
