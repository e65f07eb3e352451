/** The server: the store and the built page on the loopback address, for nobody but this machine's own page. */
export { type RunningServer, startServer, tryServer } from "./startServer.ts";
export { storeFolder } from "./storeFolder.ts";
