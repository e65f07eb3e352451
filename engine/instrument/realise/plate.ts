import {
  type BodyPlan,
  type Brace,
  braceHeights,
  clipBrace,
  equivalentRectangle,
  type PlateRegion,
  polygonArea,
} from "#engine/geometry";
import { formatQuantity } from "#engine/units";
import type { BuildBrace, BuildFilm, BuildPatch, BuildPlate, BuildThickness } from "../buildPlate.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { inMillimetres } from "./planFault.ts";
import {
  type Ledger,
  metres,
  point,
  points,
  radians,
  si,
  type Typed,
  uncertain,
  usualSpread,
} from "./reading.ts";
import { realiseWood } from "./wood.ts";

export type PlateName = "top" | "back";
type PlateEntry = InstrumentDocument["top"];
type BraceEntry = PlateEntry["braces"][number];
type PatchEntry = NonNullable<InstrumentDocument["bridgePlate"]>;
type Finish = NonNullable<InstrumentDocument["finish"]>;

/** Thickness of a plate and the mean of it. */
export function realiseThickness(
  entry: PlateEntry["thickness"],
  path: string,
  buildPath: string,
  ledger: Ledger,
): { readonly field: BuildThickness; readonly mean: number } {
  if (typeof entry === "object" && "spots" in entry) {
    const spots = Float64Array.from(entry.spots.flatMap((s) => [...point(s.at), metres(s.thickness)]));
    const mean = entry.spots.reduce((sum, s) => sum + metres(s.thickness), 0) / entry.spots.length;
    ledger.uncertain.push({
      path,
      buildPath: null,
      value: mean,
      spread: metres(entry.spread),
      how: entry.how,
    });
    return { field: { kind: "spots", spots }, mean };
  }
  const thickness = uncertain(
    entry as Typed<string>,
    "length",
    usualSpread.plateThickness,
    path,
    `${buildPath}.thickness.thickness`,
    ledger,
  );
  return { field: { kind: "uniform", thickness }, mean: thickness };
}

/** Film of finish on one part, or null where there is none. */
export function realiseFilm(
  finish: Finish | undefined,
  part: "top" | "back" | "sides",
  ledger: Ledger,
): BuildFilm | null {
  const typed = finish?.[part];
  if (finish === undefined || typed === undefined) return null;
  const thickness = uncertain(
    typed as Typed<string>,
    "length",
    usualSpread.film,
    `finish.${part}`,
    `${part}.film.thickness`,
    ledger,
  );
  const density = si(finish.density, "density");
  return {
    thickness,
    density,
    stiffness: si(finish.stiffness, "stress"),
    loss: finish.loss,
    massPerArea: thickness * density,
  };
}

/** A glued piece from the document. */
export function realisePatch(entry: PatchEntry, path: string, ledger: Ledger): BuildPatch {
  const { shape } = entry;
  let polygon: Float64Array;
  if (shape.kind === "polygon") {
    polygon = points(shape.points);
    if (polygonArea(polygon) < 0) polygon = points([...shape.points].reverse());
  } else {
    polygon = ellipse(
      point(shape.centre),
      [metres(shape.semiAxes[0]), metres(shape.semiAxes[1])],
      radians(shape.angle ?? "0 deg"),
    );
  }
  return {
    name: entry.name,
    documentPath: path,
    polygon,
    thickness: metres(entry.thickness),
    wood: realiseWood(entry.wood, `${path}.wood`, `${path}.wood`, "none", ledger),
    grainAngle: radians(entry.grainAngle),
    side: "inside",
  };
}

/** Corners of the polygon that stands for an ellipse: chords about a tenth of the mean half axis. */
const ellipseCorners = 40;

function ellipse(
  centre: readonly [number, number],
  [a, b]: readonly [number, number],
  angle: number,
): Float64Array {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return Float64Array.from(
    Array.from({ length: ellipseCorners }, (_, i) => {
      const t = (2 * Math.PI * i) / ellipseCorners;
      const [u, v] = [a * Math.cos(t), b * Math.sin(t)];
      return [centre[0] + cos * u - sin * v, centre[1] + sin * u + cos * v];
    }).flat(),
  );
}

/** A plate with its braces clipped to the plan. */
export function realisePlate(
  document: InstrumentDocument,
  name: PlateName,
  plan: BodyPlan,
  ledger: Ledger,
): BuildPlate {
  const entry = document[name];
  const region = name === "top" ? plan.topRegion : plan.backRegion;
  const { field, mean } = realiseThickness(entry.thickness, `${name}.thickness`, name, ledger);
  const braces: BuildBrace[] = [];
  entry.braces.forEach((brace, i) => {
    braces.push(
      ...realiseBrace(brace, `${name}.braces[${i}]`, `${name}.braces[${braces.length}]`, region, ledger),
    );
  });
  const patches = (entry.patches ?? []).map((p, i) => realisePatch(p, `${name}.patches[${i}]`, ledger));
  if (entry.hub !== undefined) patches.push(realisePatch(entry.hub.patch, `${name}.hub.patch`, ledger));
  return {
    wood: realiseWood(entry.wood, `${name}.wood`, `${name}.wood`, "all", ledger),
    thickness: field,
    meanThickness: mean,
    grainAngle: radians(entry.grainAngle ?? "0 deg"),
    dome:
      entry.dome === undefined ? null : { radius: metres(entry.dome.radius), apex: point(entry.dome.apex) },
    film: realiseFilm(document.finish, name, ledger),
    braces,
    crossings: (entry.crossings ?? []).map(({ braces, joint }) => ({
      braces: [braces[0], braces[1]],
      joint,
    })),
    patches,
  };
}

/** How well a hand holds the height of a brace, one standard deviation, m: common practice, no source. */
const heightControl = 3e-4;

/** The pieces of one brace that lie on the plate. */
function realiseBrace(
  entry: BraceEntry,
  path: string,
  buildPath: string,
  region: PlateRegion,
  ledger: Ledger,
): BuildBrace[] {
  const brace = statedBrace(entry);
  const clipped = clipBrace(region, brace);
  if (!clipped.ok) {
    ledger.issues.push({
      code: clipped.reason,
      path,
      message:
        clipped.reason === "brace-outside"
          ? `The brace "${entry.name}" lies wholly outside the plate.`
          : `The brace "${entry.name}": ${inMillimetres(clipped.detail)}.`,
      found: `from ${entry.from.join(", ")} to ${entry.to.join(", ")}`,
      allowed: "a brace of which some part lies on the plate; it is cut at the edge",
      remedy:
        "Move its ends: the first number runs from the tail towards the neck, the second towards the bass side.",
      severity: "stop",
    });
    return [];
  }
  const pieces = clipped.value;
  const start = pieces[0]?.start ?? 0;
  const length = (pieces.at(-1)?.end ?? start) - start;
  const rows = braceHeights(brace, length);
  if (!rows.ok) {
    ledger.issues.push({
      code: rows.reason,
      path: `${path}.profile`,
      message: `The brace "${entry.name}", ${formatQuantity(length, "mm", 1)} long on the plate: ${inMillimetres(rows.detail)}.`,
      severity: "stop",
    });
    return [];
  }
  const wood = realiseWood(entry.wood, `${path}.wood`, `${buildPath}.wood`, "brace", ledger);
  ledger.uncertain.push({
    path: `${path}.height`,
    buildPath: null,
    value: brace.height,
    spread: heightControl,
    how: "assumed",
  });
  return pieces.map((piece) => ({
    name: entry.name,
    documentPath: path,
    path: Float64Array.of(...piece.from, ...piece.to),
    width: brace.width,
    heights: profileBetween(rows.value, piece.start - start, piece.end - start),
    section: brace.section,
    wood,
    ends: [entry.ends[0], entry.ends[1]],
  }));
}

/** A brace as the document states it, in SI. */
export function statedBrace(entry: BraceEntry): Brace {
  const { profile } = entry;
  const pair = (two: readonly [string, string]): readonly [number, number] => [
    metres(two[0]),
    metres(two[1]),
  ];
  const path = { from: point(entry.from), to: point(entry.to), inset: metres(entry.inset ?? "0 mm") };
  const size = { width: metres(entry.width), height: metres(entry.height), section: entry.section };
  switch (profile.kind) {
    case "uniform":
      return { ...path, ...size, profile: { kind: "uniform" } };
    case "points":
      return { ...path, ...size, profile: { kind: "points", heights: profile.heights.map(pair) } };
    case "tapered":
      return {
        ...path,
        ...size,
        profile: { kind: "tapered", tipHeight: pair(profile.tipHeight), tipLength: pair(profile.tipLength) },
      };
    case "scalloped":
      return {
        ...path,
        ...size,
        profile: {
          kind: "scalloped",
          tipHeight: pair(profile.tipHeight),
          tipLength: pair(profile.tipLength),
          valleyAt: metres(profile.valleyAt),
          valleyHeight: metres(profile.valleyHeight),
          valleyLength: metres(profile.valleyLength),
        },
      };
  }
}

/** The part of [s, h] rows between two distances, with s as the fraction of that part. */
function profileBetween(
  rows: readonly (readonly [number, number])[],
  from: number,
  to: number,
): [number, number][] {
  const span = to - from;
  const heightAt = (s: number): number => {
    const next = rows.findIndex(([t]) => t >= s);
    const b = rows[next < 0 ? rows.length - 1 : next];
    const a = rows[Math.max(0, (next < 0 ? rows.length : next) - 1)];
    if (a === undefined || b === undefined) return 0;
    return b[0] > a[0] ? a[1] + ((b[1] - a[1]) * (s - a[0])) / (b[0] - a[0]) : b[1];
  };
  const inner = rows.filter(([s]) => s > from + 1e-9 * span && s < to - 1e-9 * span);
  return [
    [0, heightAt(from)],
    ...inner.map(([s, h]): [number, number] => [(s - from) / span, h]),
    [1, heightAt(to)],
  ];
}

/** Volume of a plate's braces and inside patches, m3: what they take from the cavity. */
export function solidOnPlate(plate: BuildPlate): number {
  const braces = plate.braces.reduce((sum, brace) => {
    const [ax = 0, ay = 0, bx = 0, by = 0] = brace.path;
    const length = Math.hypot(bx - ax, by - ay);
    const share = equivalentRectangle(brace.section);
    let profile = 0;
    brace.heights.forEach(([s, h], i) => {
      const before = brace.heights[i - 1];
      if (before !== undefined) profile += ((s - before[0]) * (h + before[1])) / 2;
    });
    return sum + length * brace.width * profile * share.width * share.height;
  }, 0);
  return braces + plate.patches.reduce((sum, p) => sum + Math.abs(polygonArea(p.polygon)) * p.thickness, 0);
}
