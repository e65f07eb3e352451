/** A server on each of the folders that are named, all in one process that is there to be killed: says their addresses, a line each. */
import { startServer } from "#host/server";

for (const folder of process.argv.slice(2)) {
  const server = await startServer({ folder, port: 0, app: folder });
  process.stdout.write(`${server.address}\n`);
}
