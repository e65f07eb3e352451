import { first } from "./001-first.ts";
import type { Migration } from "./migration.ts";

/** Every step of the schema in order. */
export const migrations: readonly Migration[] = [first];

/** Version of a store that this program writes. */
export const storeVersion = migrations.length;
