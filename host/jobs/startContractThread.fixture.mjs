/** Starts the contract's Node thread from its sources. */
import { register } from "tsx/esm/api";

register();
await import("./contractThread.fixture.ts");
