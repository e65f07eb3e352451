/** The README's first command: the main job on example A, its report written to out/low-radial. */
import { commandLine } from "./commandLine.mjs";

process.argv = [
  ...process.argv.slice(0, 2),
  "voice",
  "examples/low-radial.fairbout.json",
  "--no-ranges",
  "--out",
  "out/low-radial",
];
await commandLine();
