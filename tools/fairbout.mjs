/** The command line from a checkout: npm run --silent fairbout -- VERB ... */
import { run } from "./run.mjs";

await run("host/cli/main.ts");
