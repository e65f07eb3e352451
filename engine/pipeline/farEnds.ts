import type { Build } from "#engine/instrument";
import type { NoteBoardInput } from "#engine/notes";
import { done, type Outcome } from "#engine/numerics";
import { type BodyResponse, farEnd } from "#engine/response";
import type { InstrumentGeometry } from "./geometry.ts";
import { stringEnds } from "./structure/bodyShell.ts";

/** How nut and frets move under each string, fret 0 the nut. Fails as `farEnd` does. */
export function farEnds(
  build: Build,
  geometry: InstrumentGeometry,
  response: BodyResponse,
): Outcome<NonNullable<NoteBoardInput["farEnds"]>> {
  const ends = stringEnds(build, geometry);
  const out = [];
  for (const [i, { crown, nut }] of ends.entries()) {
    const length = build.strings[i]!.scaleLength;
    const ofString = [];
    for (let fret = 0; fret <= build.board.frets; fret++) {
      const s = geometry.board.strings[i]!.fretDistance[fret]! / length;
      const [x, y] = nut.at;
      const end = farEnd(response, x + s * (crown.x - x), y + s * (crown.y - y));
      if (!end.ok) return end;
      ofString.push(end.value);
    }
    out.push(ofString);
  }
  return done(out);
}
