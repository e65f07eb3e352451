/** Starts the worker from its sources; a bundle begins at the worker itself. */
import { register } from "tsx/esm/api";

register();
await import("./worker.ts");
