/** The README's first command: installs, builds, starts the server on a free port of this machine and opens the bench, with example A on it at first. */
import { commandLine } from "./commandLine.mjs";
import { buildPage } from "./page.mjs";
import { prepare } from "./prepare.mjs";

prepare();
await buildPage();
process.argv = [
  ...process.argv.slice(0, 2),
  "serve",
  "--open",
  "--example",
  "low-radial",
  ...process.argv.slice(2),
];
await commandLine();
