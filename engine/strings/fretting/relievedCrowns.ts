/**
 * Heights of the crowns over the straightedge from fret 1 to the fret where the neck joins, of a neck that hollows as a
 * parabola between them, deepest by `relief` half way (m, by fret; index 0: the line of the crowns at the nut). Nut and
 * frets beyond the joint lie in the straightedge's own line.
 */
export function relievedCrowns(fretPlace: Float64Array, joinFret: number, relief: number): Float64Array {
  const from = fretPlace[1]!;
  const to = fretPlace[Math.min(Math.max(2, Math.floor(joinFret)), fretPlace.length - 1)]!;
  return fretPlace.map((place) => {
    const u = (place - from) / (to - from);
    return u > 0 && u < 1 ? -4 * relief * u * (1 - u) : 0;
  });
}
