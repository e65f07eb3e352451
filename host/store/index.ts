/** The store: what a maker has, in one folder, durable before it is acknowledged. */

export { backups as storedBackups } from "./backups.ts";
export type { Changed } from "./changes.ts";
export type { Kept, Trouble } from "./kept.ts";
export { storeVersion } from "./migrations/migrations.ts";
export { openStore } from "./openStore.ts";
export { restoreBackup } from "./restoreBackup.ts";
export type { Store } from "./store.ts";
