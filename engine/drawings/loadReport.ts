import { formatQuantity } from "#engine/units";
import { innerEdges } from "./contours.ts";
import { deflectionSheet } from "./deflectionSheet.ts";
import { climateTable, creepTable, glueTable, marginTable, stringTable, turnTable } from "./loadTables.ts";
import type { LoadSheetView, StressMapView } from "./loadView.ts";
import { loadWords, sayPlace } from "./loadWords.ts";
import { picture, reportPage, sheet } from "./reportPage.ts";
import { exaggeration, sectionSheet } from "./sectionSheet.ts";
import { type PlateFace, type StressDirection, stressOf, stressSheet } from "./stressSheet.ts";
import { escaped, prose, svgElement } from "./svg.ts";
import { type BandEdges, extremesOf, roundEdges } from "./tintedPlate.ts";
import { verdictSchedule } from "./verdictSchedule.ts";

/**
 * The whole load report as one HTML document: what the strings do to the guitar in shop words, the verdicts, the deflected guitar
 * in plan and in section, stresses, margins with the source of every limit, what other bodies, tunings, climates and years
 * change; what the model does not promise, and the stamp, come last. What was not computed has no sheet.
 */
export function loadReport(view: LoadSheetView): string {
  return reportPage(
    view,
    "load",
    [
      sheet("implies", "What the strings do", implied(view)),
      sheet("verdicts", "Verdicts", verdictSchedule(view.verdicts)),
      sheet("deflection", "How the guitar gives", deflected(view)),
      view.stresses.length === 0 ? "" : sheet("stress", "Where the wood works", stresses(view)),
      view.glueLine === null ? "" : sheet("glue", "Under the bridge", glueTable(view.glueLine)),
      view.margins.length === 0 ? "" : sheet("margins", "Every stress against its limit", marginTable(view)),
      view.variants.length < 2
        ? ""
        : sheet("variants", "The same strings on other bodies", turnTable(view.variants, "body")),
      view.tunings.length < 2 ? "" : sheet("tunings", "Other tunings", turnTable(view.tunings, "tuning")),
      view.climates.length === 0 ? "" : sheet("climate", "Other air than the shop's", climateTable(view)),
      view.creep.length === 0 ? "" : sheet("years", "What the years add", creepTable(view)),
      sheet("strings", "Strings at pitch", stringTable(view)),
      sheet("cautions", "Where it can hurt", cautions(view)),
      sheet("limits", "What the model does not promise", limits(view)),
    ].filter((part) => part !== ""),
    [
      ["Instrument", view.title],
      ["Load", `${formatQuantity(view.load.totalN, "N", 0)} in all`],
    ],
  );
}

/** The pictures of the report, by file name without ending. */
export function loadDrawings(view: LoadSheetView): ReadonlyMap<string, ReturnType<typeof sectionSheet>> {
  const plan = deflectionSheet(view);
  return new Map([
    ...(plan === null ? [] : [["deflection-plan", plan] as const]),
    ...(view.section === null ? [] : [["deflection-section", sectionSheet(view, view.section)] as const]),
    ...stressDrawings(view).map(({ id, drawing }) => [id, drawing] as const),
  ]);
}

function implied(view: LoadSheetView): string {
  const rows = loadWords(view).map(
    ({ topic, sentences }) =>
      `<dt>${escaped(topic)}</dt><dd>${sentences.map((s) => `<p>${prose(s)}</p>`).join("")}</dd>`,
  );
  return `<dl class="words">${rows.join("")}</dl>`;
}

function deflected(view: LoadSheetView): string {
  const plan = deflectionSheet(view);
  const section =
    view.section === null
      ? ""
      : picture(
          sectionSheet(view, view.section),
          "section-drawing",
          `The guitar cut along its centreline and seen from the side: thin at rest, heavy under the strings, every shift drawn ${exaggeration(view.section)} times too far. The edge of the top is taken to stay, in the mean.`,
        );
  const seen =
    plan === null
      ? `<p>The top does not move.</p>`
      : picture(
          plan,
          "deflection-drawing",
          "Rise of the top against its own edge, true in mm as the key says. As the player looks down on it, the braces seen through.",
        );
  return `${section}${seen}`;
}

const directions: readonly StressDirection[] = ["along", "across"];
const faces: readonly PlateFace[] = ["outside", "inside"];

function edgesOf(view: LoadSheetView, direction: StressDirection): BandEdges {
  const largest = Math.max(
    ...view.stresses.flatMap((map) =>
      faces.map((face) => {
        const values = stressOf(map, direction, face);
        const { most, least } = extremesOf(map.mesh, values);
        return Math.max(Math.abs(values[most]), Math.abs(values[least]));
      }),
    ),
  );
  return roundEdges(largest > 0 ? largest : 1);
}

interface StressDrawing {
  readonly id: string;
  readonly map: StressMapView;
  readonly direction: StressDirection;
  readonly face: PlateFace;
  readonly drawing: ReturnType<typeof stressSheet>;
}

function stressDrawings(view: LoadSheetView): readonly StressDrawing[] {
  return directions.flatMap((direction) => {
    const edges = edgesOf(view, direction);
    return view.stresses.flatMap((map) => {
      const inner = innerEdges(map.mesh);
      return faces.map((face) => ({
        id: `stress-${map.plate}-${direction}-${face}`,
        map,
        direction,
        face,
        drawing: stressSheet(map, direction, face, view, edges, inner),
      }));
    });
  });
}

function stresses(view: LoadSheetView): string {
  const all = stressDrawings(view);
  const parts = directions.map((direction) => {
    const figures = all
      .filter((d) => d.direction === direction)
      .map(
        ({ id, map, face, drawing }) =>
          `<figure>${svgElement(drawing, id)}<figcaption><h4>${map.plate === "top" ? "Top" : "Back"}, ${face}</h4>${extremeWords(view, map, direction, face)}</figcaption></figure>`,
      );
    return `<h3>${direction === "along" ? "Along the grain" : "Across the grain"}</h3>${legend(edgesOf(view, direction))}<div class="modes stresses">${figures.join("")}</div>`;
  });
  return `<p>Stress of the plates' own wood under the strings, as they are at pitch in the shop's air. Both plates are seen from the front. Next to braces, blocks, bridge and hole a figure still grows slowly on finer meshes: it is good to about a fifth there.</p>${parts.join("")}`;
}

function legend(edges: BandEdges): string {
  const decimals = Math.max(0, Math.min(3, Math.ceil(-Math.log10(edges[0] / 1e6))));
  const swatches = (side: "in" | "out") =>
    `<svg viewBox="0 0 44 12" aria-hidden="true">${[1, 2, 3, 4].map((k) => `<path class="f-${side}${k}" d="M${(k - 1) * 11} 0h11v12h-11Z"/>`).join("")}</svg>`;
  const from = edges.map((e) => (e / 1e6).toFixed(decimals)).join(", ");
  return `<ul class="tints"><li>${swatches("out")} pulled, flagged +</li><li>${swatches("in")} pressed, flagged −</li><li class="soft">tints begin at ${from} MPa</li></ul>`;
}

function extremeWords(
  view: LoadSheetView,
  map: StressMapView,
  direction: StressDirection,
  face: PlateFace,
): string {
  const values = stressOf(map, direction, face);
  const { most, least } = extremesOf(map.mesh, values);
  const said = (node: number, how: string) =>
    `<p>${how} ${prose(formatQuantity(Math.abs(values[node]), "MPa", 1))}, ${prose(sayPlace(map.mesh.nodes[2 * node], map.mesh.nodes[2 * node + 1], view.hand))}</p>`;
  return `${values[most] > 0 ? said(most, "pulled") : ""}${values[least] < 0 ? said(least, "pressed") : ""}`;
}

const general = [
  "Elastic model, perfect joints assumed: glue that did not reach, a gap under a brace or a crack is not in it.",
  "Creep is known within a factor of 2 to 3.",
  "Strengths are of clear straight wood: knots, runout, and checks that the eye misses are not in them.",
] as const;

function limits(view: LoadSheetView): string {
  return `<ul class="limits">${[...general, ...view.limits].map((text) => `<li>${prose(text)}</li>`).join("")}</ul>`;
}

function cautions(view: LoadSheetView): string {
  return `<ul class="limits">${view.cautions.map((text) => `<li>${prose(text)}</li>`).join("")}</ul>`;
}
