import { chmodSync, existsSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { array, int, nullable, strictObject, string } from "zod";
import type { OwnCertificate } from "./certificate.ts";
import type { PairedDevice } from "./pairing.ts";

/** What outlives a restart: who is paired, the certificate, the port. Never whether the door is open. */
export interface KeptPairing {
  readonly devices: readonly PairedDevice[];
  readonly certificate: OwnCertificate | null;
  readonly port: number | null;
}

const schema = strictObject({
  devices: array(strictObject({ id: string(), name: string(), pairedAt: string(), secretHash: string() })),
  certificate: nullable(strictObject({ certificate: string(), key: string() })),
  port: nullable(int()),
});

const nothing: KeptPairing = { devices: [], certificate: null, port: null };
const place = (folder: string): string => join(folder, "shop-network.json");

/** What was kept in the folder. A file that cannot be read pairs nobody: tablets are paired anew. */
export function readPairing(folder: string): KeptPairing {
  const file = place(folder);
  if (!existsSync(file)) return nothing;
  try {
    return schema.parse(JSON.parse(readFileSync(file, "utf8")));
  } catch {
    return nothing;
  }
}

/** Written beside and renamed, so that it is whole or as before; for this user's eyes only, since the key is in it. */
export function writePairing(folder: string, kept: KeptPairing): void {
  const file = place(folder);
  writeFileSync(`${file}.new`, JSON.stringify(kept, null, 2), { mode: 0o600 });
  chmodSync(`${file}.new`, 0o600);
  renameSync(`${file}.new`, file);
}
