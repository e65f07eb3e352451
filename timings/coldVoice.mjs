/** The whole command `voice FILE --json` in this process, its greatest memory told at the end on standard error. */
import { commandLine } from "../tools/commandLine.mjs";

process.argv = [...process.argv.slice(0, 2), "voice", process.argv[2], "--json"];
process.on("exit", () => {
  process.stderr.write(`peak ${(process.resourceUsage().maxRSS / 1024).toFixed(1)} MB\n`);
});
await commandLine();
