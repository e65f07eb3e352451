import { domeHeight } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { planLocator } from "#engine/meshing";
import type { NeckLine } from "#engine/response";
import type { BodyModes } from "#engine/shells";
import type { InstrumentGeometry } from "../geometry.ts";
import { boardLine } from "./neckBeam.ts";
import { edgeHeight } from "./rimHeights.ts";

/** m: half the width over which the turn of the board on the top is taken; stations on the body. */
const halfWidth = 0.02;
const stationsOnBody = 3;

/** A station, with its motions by coordinate (P x 3). */
interface Station {
  readonly x: number;
  readonly motion: Float64Array;
}

/**
 * Where strings are stopped: at the nodes of the neck's beam and of the board's clear end, lifted to the frets' crowns; a
 * board glued to the top moves with the top under its middle, as far as there is a top under it.
 */
export function neckLine(build: Build, geometry: InstrumentGeometry, modes: BodyModes): NeckLine {
  const all = modes.rigidCount + modes.count;
  const stations = [
    ...beamStations(build, geometry, modes, all),
    ...(build.neck.boardClear ? [] : topStations(build, geometry, modes, all)),
  ]
    .sort((a, b) => a.x - b.x)
    // the block holds neck and clear end at one place
    .filter(({ x }, i, sorted) => i === 0 || x - sorted[i - 1]!.x > 1e-6);
  const width = 3 * stations.length;
  const motion = new Float64Array(all * width);
  stations.forEach((station, k) => {
    for (let i = 0; i < all; i++) motion.set(station.motion.subarray(3 * i, 3 * i + 3), i * width + 3 * k);
  });
  return { x: Float64Array.from(stations, ({ x }) => x), motion };
}

function beamStations(
  build: Build,
  geometry: InstrumentGeometry,
  { neck }: BodyModes,
  all: number,
): Station[] {
  const { from, to } = boardLine(build, geometry);
  const nodes = neck.places.length / 3;
  return Array.from({ length: nodes }, (_, k) => {
    const x = neck.places[3 * k]!;
    const surface = from[2] + ((to[2] - from[2]) * (x - from[0])) / (to[0] - from[0]);
    const height = surface + build.neck.fretHeight - neck.places[3 * k + 2]!;
    const motion = new Float64Array(3 * all);
    for (let i = 0; i < all; i++) {
      const at = 6 * (i * nodes + k);
      const turn = neck.motions[at + 3]!;
      motion.set([neck.motions[at + 2]!, turn, neck.motions[at + 1]! - turn * height], 3 * i);
    }
    return { x, motion };
  });
}

function topStations(build: Build, geometry: InstrumentGeometry, modes: BodyModes, all: number): Station[] {
  const { top } = modes.mesh;
  if (top === null) return [];
  const { from, end } = boardLine(build, geometry);
  const locate = planLocator(top.plan);
  const nodes = modes.surface.nodes.length / 3;
  const stations: Station[] = [];
  for (let k = 1; k <= stationsOnBody; k++) {
    const x = from[0] + ((end - from[0]) * k) / stationsOnBody;
    const found = [0, halfWidth, -halfWidth].map((y) => locate(x, y));
    if (found.some((place) => place === null)) break;
    const surface = domeHeight(build.top.dome, x, 0) - edgeHeight(geometry.plan, build.top.dome);
    const height = from[2] + build.neck.fretHeight - surface;
    const motion = new Float64Array(3 * all);
    for (let i = 0; i < all; i++) {
      const moved = (place: NonNullable<(typeof found)[0]>, q: number): number =>
        place.barycentric.reduce((sum, w, c) => {
          const node = modes.mesh.topNode[top.plan.triangles[3 * place.triangle + c]!]!;
          return sum + w * modes.shapes[3 * (i * nodes + node) + q]!;
        }, 0);
      const [middle, left, right] = found as NonNullable<(typeof found)[0]>[];
      const turn = (moved(left!, 2) - moved(right!, 2)) / (2 * halfWidth);
      motion.set([moved(middle!, 2), turn, moved(middle!, 1) - turn * height], 3 * i);
    }
    stations.push({ x, motion });
  }
  return stations;
}
