import { type BoardLayout, type Point, type Polygon, polygonArea } from "#engine/geometry";
import { formatQuantity } from "#engine/units";
import type { BuildBridge } from "../build.ts";
import type { BuildPatch } from "../buildPlate.ts";
import type { BridgeGlue } from "../buildSetup.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import {
  commonPractice,
  kilograms,
  type Ledger,
  metres,
  si,
  type Typed,
  uncertain,
  usualSpread,
} from "./reading.ts";
import { realiseWood } from "./wood.ts";

/**
 * The bridge set on the saddle line of the board (body frame). It lies along the line from the treble to the bass end of
 * the saddle and is centred on the middle of that line; the front edge is on the neck side.
 */
export function realiseBridge(
  document: InstrumentDocument,
  board: BoardLayout,
  behindSaddle: number,
  ledger: Ledger,
): BuildBridge {
  const entry = document.bridge;
  const { bass, treble } = board.saddleLine;
  const middle: Point = [(bass[0] + treble[0]) / 2, (bass[1] + treble[1]) / 2];
  const span = Math.hypot(bass[0] - treble[0], bass[1] - treble[1]);
  const along: Point = [(bass[0] - treble[0]) / span, (bass[1] - treble[1]) / span];
  const ahead: Point = [along[1], -along[0]];
  const front = metres(entry.saddleFromFront);
  const rear = front - metres(entry.width);
  const half = metres(entry.length) / 2;
  const rectangle = (from: number, to: number): Polygon =>
    Float64Array.from(
      [
        [rear, from],
        [front, from],
        [front, to],
        [rear, to],
      ].flatMap(([a = 0, b = 0]) => [
        middle[0] + a * ahead[0] + b * along[0],
        middle[1] + a * ahead[1] + b * along[1],
      ]),
    );

  const thickness = metres(entry.thickness);
  const wood = realiseWood(entry.wood, "bridge.wood", "bridge.wood", "none", ledger);
  const grainAngle = Math.atan2(along[1], along[0]);
  const wing = entry.wings === undefined ? 0 : metres(entry.wings.length);
  if (wing >= half) {
    ledger.issues.push({
      code: "wings-too-long",
      path: "bridge.wings.length",
      message: "The two wings leave no middle of the bridge.",
      found: JSON.stringify(entry.wings?.length),
      allowed: `less than half of the bridge's length of ${entry.length}`,
      severity: "stop",
    });
  }
  const pieces: { name: string; polygon: Polygon; thickness: number }[] = [
    { name: "bridge", polygon: rectangle(-half + wing, half - wing), thickness },
  ];
  if (entry.wings !== undefined) {
    const thin = metres(entry.wings.thickness);
    pieces.push({ name: "bridge wing, treble", polygon: rectangle(-half, -half + wing), thickness: thin });
    pieces.push({ name: "bridge wing, bass", polygon: rectangle(half - wing, half), thickness: thin });
  }

  const volumeOf = (p: { polygon: Polygon; thickness: number }): number =>
    Math.abs(polygonArea(p.polygon)) * p.thickness;
  const volume = pieces.reduce((sum, p) => sum + volumeOf(p), 0);
  const givenMass =
    entry.mass === undefined
      ? null
      : uncertain(
          entry.mass as Typed<string>,
          "mass",
          usualSpread.mass,
          "bridge.mass",
          "bridge.givenMass",
          ledger,
        );
  const pickup = document.fittings.pickup;
  const addedMass =
    kilograms(entry.hardwareMass) +
    (pickup?.where === "bridge" || pickup?.where === "bridge-plate" ? kilograms(pickup.mass) : 0);
  const density = givenMass === null ? wood.density : givenMass / volume;
  const patches = pieces.map((piece, i): BuildPatch => {
    // What the bridge carries sits on its middle.
    const extra = i === 0 ? addedMass / volumeOf(piece) : 0;
    return {
      ...piece,
      documentPath: "bridge",
      wood: { ...wood, density: density + extra },
      grainAngle,
      side: "outside",
    };
  });
  return {
    documentPath: "bridge",
    polygon: rectangle(-half, half),
    thickness,
    wood,
    grainAngle,
    patches,
    mass: density * volume + addedMass,
    givenMass,
    addedMass,
    saddleLine: [bass, treble],
    anchor: entry.anchor,
    rearBehind: -rear,
    anchorBehind: behindSaddle,
    glue: bridgeGlue(document, ledger),
    glueLand: glueLand(document, ledger),
  };
}

/** From the saddle line to the tail for strings held there; else as the document says, or half way to the bridge's rear edge and at most 12 mm. */
export function anchorBehind({ bridge }: InstrumentDocument, board: BoardLayout, ledger: Ledger): number {
  const { bass, treble } = board.saddleLine;
  if (bridge.anchor === "tail") return (bass[0] + treble[0]) / 2;
  if (bridge.anchorBehind !== undefined) return metres(bridge.anchorBehind);
  const usual = Math.min(0.012, (metres(bridge.width) - metres(bridge.saddleFromFront)) / 2);
  ledger.assumed.push({
    path: "bridge.anchorBehind",
    value: formatQuantity(usual, "mm", 1),
    because: commonPractice,
  });
  return usual;
}

const glueWords: readonly (readonly [RegExp, BridgeGlue])[] = [
  [/fish/i, "fish"],
  [/hide|bone/i, "hide"],
  [/aliphatic|yellow/i, "aliphatic"],
  [/pva|white/i, "pva"],
  [/epoxy/i, "epoxy"],
];

/** The bridge's own word for its glue, else what its entry among the glues speaks of, else hide glue. */
function bridgeGlue({ bridge, glue }: InstrumentDocument, ledger: Ledger): BridgeGlue {
  if (bridge.glue !== undefined) return bridge.glue;
  const told = glueWords.find(([pattern]) => pattern.test(glue?.bridge ?? ""))?.[1];
  if (told !== undefined) return told;
  ledger.assumed.push({ path: "bridge.glue", value: "hide", because: commonPractice });
  return "hide";
}

/** Finish left under the bridge all round where the top is finished, m: common practice, no source. */
const rimLeft = 1e-3;

function glueLand({ bridge, finish }: InstrumentDocument, ledger: Ledger): number {
  if (bridge.glueLand !== undefined) return si(bridge.glueLand, "ratio");
  const rim = finish?.top === undefined ? 0 : rimLeft;
  const [length, width] = [metres(bridge.length), metres(bridge.width)];
  const land = ((length - 2 * rim) * (width - 2 * rim)) / (length * width);
  ledger.assumed.push({
    path: "bridge.glueLand",
    value: formatQuantity(land, "%", 0),
    because:
      rim === 0
        ? "the top has no finish"
        : `finish left under a rim of ${formatQuantity(rim, "mm", 0)}: ${commonPractice}`,
  });
  return land;
}
