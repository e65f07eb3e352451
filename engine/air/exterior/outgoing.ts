import { type Kernels, placeOf } from "#engine/numerics";
import type { Directions } from "./farDirections.ts";
import type { WaveSystem } from "./waveSystem.ts";

/** What reaches some places from every pattern, places x patterns, real parts then imaginary parts. */
type Heard = Float64Array;

/** Doubles that `farField` or `pressureAt` needs for so many places. */
export function outgoingRoom(system: Pick<WaveSystem, "geometry" | "count">, places: number): number {
  const { nodes, panels } = system.geometry;
  return 2 * places * (nodes + panels + system.count) + 8;
}

/**
 * Far field of each pattern per unit acceleration and density: p = density x acceleration x f exp(-ikR)/R, R from `centre`.
 *   f(d) = 1/(4 pi) integral of ( ik d.n p + v ) exp(ik d.y)
 */
export function farField(
  system: WaveSystem,
  k: number,
  directions: Directions,
  centre: ArrayLike<number>,
): Heard {
  return hear(system, directions.count, (place, x, y, z, nx, ny, nz, out) => {
    const dx = directions.place[3 * place];
    const dy = directions.place[3 * place + 1];
    const dz = directions.place[3 * place + 2];
    const phase = k * (dx * (x - centre[0]) + dy * (y - centre[1]) + dz * (z - centre[2]));
    const c = Math.cos(phase) / (4 * Math.PI);
    const s = Math.sin(phase) / (4 * Math.PI);
    const facing = k * (dx * nx + dy * ny + dz * nz);
    out[0] = c;
    out[1] = s;
    out[2] = -facing * s;
    out[3] = facing * c;
  });
}

/** Pressure of each pattern per unit acceleration and density at points x,y,z clear of the surface: p = D p + S v. */
export function pressureAt(system: WaveSystem, k: number, points: Float64Array): Heard {
  return hear(system, points.length / 3, (place, x, y, z, nx, ny, nz, out) => {
    const dx = points[3 * place] - x;
    const dy = points[3 * place + 1] - y;
    const dz = points[3 * place + 2] - z;
    const r = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const c = Math.cos(k * r) / (4 * Math.PI * r);
    const s = Math.sin(k * r) / (4 * Math.PI * r);
    const facing = (dx * nx + dy * ny + dz * nz) / (r * r);
    out[0] = c;
    out[1] = -s;
    out[2] = facing * (c + k * r * s);
    out[3] = facing * (k * r * c - s);
  });
}

/** Fills out with the single layer's kernel (re, im) and the double layer's (re, im) of a point with its normal. */
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

function hear(system: WaveSystem, places: number, kernel: Kernel): Heard {
  const { geometry: g, points, kernels, count } = system;
  const { nodes, panels } = g;
  const mark = kernels.mark();
  const single = kernels.allocate(2 * places * panels);
  const double = kernels.allocate(2 * places * nodes);
  const heard = kernels.allocate(2 * places * count);
  const out = new Float64Array(4);
  const sum = new Float64Array(8);
  for (let place = 0; place < places; place++) {
    for (let t = 0; t < panels; t++) {
      const third = g.area[t] / 3;
      sum.fill(0);
      for (let i = 0; i < 3; i++) {
        const o = 9 * t + 3 * i;
        kernel(
          place,
          points[o],
          points[o + 1],
          points[o + 2],
          g.normal[3 * t],
          g.normal[3 * t + 1],
          g.normal[3 * t + 2],
          out,
        );
        sum[6] += out[0];
        sum[7] += out[1];
        for (let m = 0; m < 3; m++) {
          const w = i === m ? 2 / 3 : 1 / 6;
          sum[2 * m] += w * out[2];
          sum[2 * m + 1] += w * out[3];
        }
      }
      single[place * panels + t] = third * sum[6];
      single[(places + place) * panels + t] = third * sum[7];
      for (let m = 0; m < 3; m++) {
        const node = g.corner[3 * t + m];
        double[place * nodes + node] -= third * sum[2 * m]; // subtracted below
        double[(places + place) * nodes + node] -= third * sum[2 * m + 1];
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
  system: WaveSystem,
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
