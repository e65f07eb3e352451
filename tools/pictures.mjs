/**
 * The README's picture, from the report that `npm run demo` wrote: node tools/pictures.mjs. Needs an installed chromium
 * (its path in CHROMIUM, or on PATH) and says so when there is none; no test runs it.
 */
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { root } from "./prepare.mjs";

const report = join(root, "out", "low-radial", "report.html");
const picture = join(root, "docs", "pictures", "report-low-radial.png");
const chromium = process.env.CHROMIUM ?? "chromium";

const folder = mkdtempSync(join(tmpdir(), "fairbout-picture-"));
try {
  // Only the sheets that are drawings, set close: plan, first row of mode shapes, note board.
  const only =
    "<style>.sheet:not(#plan, #modes, #board), .halves, details, .title-block, .sheet-head, .sheet > p, " +
    ".modes figcaption p:not(.accent), .modes figure:nth-of-type(n+5), #plan figcaption { display: none } " +
    "#plan figure { width: 70%; margin-inline: auto }</style></head>";
  const page = join(folder, "page.html");
  writeFileSync(page, readFileSync(report, "utf8").replace("</head>", only));
  mkdirSync(join(root, "docs", "pictures"), { recursive: true });
  const flags = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--hide-scrollbars",
    "--disable-lcd-text",
    "--no-first-run",
  ];
  const done = spawnSync(
    chromium,
    [
      ...flags,
      `--user-data-dir=${folder}`,
      "--window-size=1280,1830",
      `--screenshot=${picture}`,
      pathToFileURL(page).href,
    ],
    { stdio: "ignore", timeout: 60_000 },
  );
  if (done.status !== 0) {
    process.stderr.write("No picture was made: is chromium installed? Its path may stand in CHROMIUM.\n");
    process.exitCode = 1;
  } else {
    // The drawings hold few tints: where ImageMagick is installed, a palette of 96 makes the file a third as large.
    spawnSync("convert", [picture, "+dither", "-colors", "96", `PNG8:${picture}`], { stdio: "ignore" });
    process.stdout.write(`${picture}: ${Math.round(statSync(picture).size / 1000)} kB\n`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
