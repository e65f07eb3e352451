/** The command line from a checkout: npm run --silent fairbout -- VERB ... */
import { commandLine } from "./commandLine.mjs";

await commandLine();
