import { type Kernels, placeOf } from "#engine/numerics";
import type { Directions } from "./farDirections.ts";
import type { PanelEdges } from "./panelEdges.ts";
import type { PanelGeometry } from "./panelGeometry.ts";

/** What reaches some places from every pattern, places x patterns, real parts then imaginary parts. */
type Heard = Float64Array;

/** Patterns in motion and the pressure they make on the surface, all per unit acceleration and density. */
export interface SoundingSurface {
  readonly geometry: PanelGeometry;
  readonly edges: PanelEdges;
  readonly kernels: Kernels;
  readonly count: number;
  /** panels x count, row by row. */
  readonly patterns: Float64Array;
  /** nodes x count; real part, then imaginary part. */
  readonly pressure: Float64Array;
  readonly scratch: Float64Array;
}

/** Doubles that `farField` or `pressureAt` needs for so many places. */
export function outgoingRoom(system: Pick<SoundingSurface, "geometry" | "count">, places: number): number {
  const { nodes, panels } = system.geometry;
  return 2 * places * (nodes + panels + system.count) + 8;
}

/**
 * Far field of each pattern per unit acceleration and density: p = density x acceleration x f exp(-ikR)/R, R from `centre`.
 *   f(d) = 1/(4 pi) integral of ( ik d.n p + v ) exp(ik d.y)
 */
export function farField(
  system: SoundingSurface,
  k: number,
  directions: Directions,
  centre: ArrayLike<number>,
): Heard {
  const [cx, cy, cz] = [centre[0], centre[1], centre[2]];
  const { place: to } = directions;
  return hear(system, directions.count, (place, x, y, z, nx, ny, nz, out) => {
    const dx = to[3 * place];
    const dy = to[3 * place + 1];
    const dz = to[3 * place + 2];
    const phase = k * (dx * (x - cx) + dy * (y - cy) + dz * (z - cz));
    const c = quarter * Math.cos(phase);
    const s = quarter * Math.sin(phase);
    const facing = k * (dx * nx + dy * ny + dz * nz);
    out[0] = c;
    out[1] = s;
    out[2] = -facing * s;
    out[3] = facing * c;
  });
}

/** Pressure of each pattern per unit acceleration and density at points x,y,z clear of the surface: p = D p + S v. */
export function pressureAt(system: SoundingSurface, k: number, points: Float64Array): Heard {
  return hear(system, points.length / 3, (place, x, y, z, nx, ny, nz, out) => {
    const dx = points[3 * place] - x;
    const dy = points[3 * place + 1] - y;
    const dz = points[3 * place + 2] - z;
    const r = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const c = (quarter * Math.cos(k * r)) / r;
    const s = (quarter * Math.sin(k * r)) / r;
    const facing = (dx * nx + dy * ny + dz * nz) / (r * r);
    out[0] = c;
    out[1] = -s;
    out[2] = facing * (c + k * r * s);
    out[3] = facing * (k * r * c - s);
  });
}

const quarter = 1 / (4 * Math.PI);

/** Fills out with the single layer's kernel (re, im) of a point and the double layer's (re, im) for its area vector. */
type Kernel = (
  place: number,
  x: number,
  y: number,
  z: number,
  nx: number,
  ny: number,
  nz: number,
  out: Float64Array,
) => void;

function hear(system: SoundingSurface, places: number, kernel: Kernel): Heard {
  const { geometry: g, edges, kernels, count } = system;
  const { middle, facing, ends, sides } = edges;
  const { nodes, panels } = g;
  const mark = kernels.mark();
  const single = kernels.allocate(2 * places * panels);
  const double = kernels.allocate(2 * places * nodes);
  const heard = kernels.allocate(2 * places * count);
  const out = new Float64Array(4);
  const third = g.area.map((a) => a / 3);
  for (let place = 0; place < places; place++) {
    const s = place * panels;
    const sIm = s + places * panels;
    const d = place * nodes;
    const dIm = d + places * nodes;
    for (let e = 0; e < edges.count; e++) {
      const o = 3 * e;
      kernel(place, middle[o], middle[o + 1], middle[o + 2], facing[o], facing[o + 1], facing[o + 2], out);
      const re = 0.5 * out[2];
      const im = 0.5 * out[3];
      for (let side = 2 * e; side < 2 * e + 2; side++) {
        const t = sides[side];
        single[s + t] += third[t] * out[0];
        single[sIm + t] += third[t] * out[1];
        double[d + ends[side]] -= re; // subtracted below
        double[dIm + ends[side]] -= im;
      }
    }
  }
  multiply(kernels, system, places, { single, double, heard });
  const result = heard.slice();
  kernels.release(mark);
  return result;
}

function multiply(
  kernels: Kernels,
  system: SoundingSurface,
  places: number,
  { single, double, heard }: Record<"single" | "double" | "heard", Float64Array>,
): void {
  const { geometry: g, count } = system;
  const scratch = placeOf(system.scratch);
  const to = placeOf(heard);
  kernels.complexLu.multiplyRows(
    2 * places,
    g.panels,
    count,
    placeOf(single),
    g.panels,
    placeOf(system.patterns),
    count,
    to,
    count,
    scratch,
  );
  const a = placeOf(double);
  const p = placeOf(system.pressure);
  kernels.complexLu.subtractComplexRows(
    places,
    g.nodes,
    count,
    a,
    a + places * g.nodes,
    g.nodes,
    p,
    p + g.nodes * count,
    count,
    to,
    to + places * count,
    count,
    scratch,
  );
}
