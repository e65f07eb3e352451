import { gaussLegendre } from "#engine/numerics";

/** Directions over the sphere with weights that sum to 4 pi. */
export interface Directions {
  readonly count: number;
  /** x,y,z of a unit vector by direction. */
  readonly place: Float64Array;
  readonly weight: Float64Array;
}

/** Gauss points in height times even steps round: exact for spherical harmonics up to 2 degree + 1. */
export function farDirections(degree: number): Directions {
  const heights = gaussLegendre(degree + 1);
  const round = 2 * degree + 2;
  const count = (degree + 1) * round;
  const place = new Float64Array(3 * count);
  const weight = new Float64Array(count);
  let at = 0;
  for (let i = 0; i <= degree; i++) {
    const z = heights.points[i];
    const r = Math.sqrt(1 - z * z);
    for (let j = 0; j < round; j++) {
      const angle = (2 * Math.PI * (j + 0.5)) / round;
      place.set([r * Math.cos(angle), r * Math.sin(angle), z], 3 * at);
      weight[at++] = (heights.weights[i] * 2 * Math.PI) / round;
    }
  }
  return { count, place, weight };
}
