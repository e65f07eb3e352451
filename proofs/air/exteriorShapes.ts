/** Spheres, caps and an egg-shaped body for the proofs of the outer air. */
import type { ExteriorSpec, ExteriorSurface } from "#engine/air";
import type { Polygon } from "#engine/geometry";

/**
 * A sphere of 20 m^2 triangles (an icosahedron's faces cut m-fold), turned off all axes, its nodes moved out a little so that
 * the flat triangles enclose the sphere's own volume. `radius` m.
 */
export function sphereSurface(m: number, radius: number, at: readonly number[] = [0, 0, 0]): ExteriorSurface {
  const g = (1 + Math.sqrt(5)) / 2;
  const corners = [
    [-1, g, 0],
    [1, g, 0],
    [-1, -g, 0],
    [1, -g, 0],
    [0, -1, g],
    [0, 1, g],
    [0, -1, -g],
    [0, 1, -g],
    [g, 0, -1],
    [g, 0, 1],
    [-g, 0, -1],
    [-g, 0, 1],
  ];
  const faces = "0bp 0p1 01h 0ha 0ab 1p9 pb4 ba2 ah6 h18 394 342 326 368 389 49p 24b 62a 86h 981"
    .replaceAll("p", "5")
    .replaceAll("h", "7")
    .split(" ")
    .map((face) => [...face].map((c) => Number.parseInt(c, 16)));
  const names = new Map<string, number>();
  const nodes: number[] = [];
  const triangles: number[] = [];
  const node = (p: readonly number[]): number => {
    const key = p.map((x) => Math.round(x * 1e6)).join();
    let name = names.get(key);
    if (name === undefined) {
      name = nodes.length / 3;
      names.set(key, name);
      nodes.push(...turned(p.map((x) => x / Math.hypot(...p))));
    }
    return name;
  };
  for (const [a, b, c] of faces) {
    const point = (i: number, j: number) =>
      node(corners[a].map((x, d) => x + (i / m) * (corners[b][d] - x) + (j / m) * (corners[c][d] - x)));
    for (let i = 0; i < m; i++) {
      for (let j = 0; i + j < m; j++) {
        triangles.push(point(i, j), point(i + 1, j), point(i, j + 1));
        if (i + j < m - 1) triangles.push(point(i + 1, j), point(i + 1, j + 1), point(i, j + 1));
      }
    }
  }
  let volume = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const [p, q, r] = [0, 1, 2].map((e) => nodes.slice(3 * triangles[t + e], 3 * triangles[t + e] + 3));
    for (let d = 0; d < 3; d++)
      volume += (p[d] * (q[(d + 1) % 3] * r[(d + 2) % 3] - q[(d + 2) % 3] * r[(d + 1) % 3])) / 6;
  }
  const scale = radius * Math.cbrt((4 * Math.PI) / 3 / volume);
  return {
    nodes: Float64Array.from(nodes, (x, i) => scale * x + at[i % 3]),
    triangles: Uint32Array.from(triangles),
    part: new Uint8Array(triangles.length / 3),
  };
}

function turned([x, y, z]: readonly number[]): number[] {
  const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
  const [u, v] = [c * x - s * y, s * x + c * y];
  const [d, e] = [Math.cos(0.4), Math.sin(0.4)];
  return [u, d * v - e * z, e * v + d * z];
}

/** Two surfaces that do not touch as one. */
export function bothSurfaces(a: ExteriorSurface, b: ExteriorSurface): ExteriorSurface {
  const shift = a.nodes.length / 3;
  return {
    nodes: Float64Array.of(...a.nodes, ...b.nodes),
    triangles: Uint32Array.of(...a.triangles, ...b.triangles.map((p) => p + shift)),
    part: Uint8Array.of(...a.part, ...b.part),
  };
}

/**
 * Mean over each panel of f(cos of the angle from +z, seen from the origin), its pieces projected on the sphere; scaled so
 * that the flow is that of the true sphere: area of the sphere times the mean of f over it if `mean` is given.
 */
export function overPanels(
  surface: ExteriorSurface,
  f: (cos: number) => number,
  flow?: number,
): Float64Array {
  const { nodes, triangles } = surface;
  const cuts = 24;
  const out = new Float64Array(triangles.length / 3);
  let total = 0;
  for (let t = 0; t < out.length; t++) {
    const [p, q, r] = [0, 1, 2].map((m) =>
      nodes.subarray(3 * triangles[3 * t + m], 3 * triangles[3 * t + m] + 3),
    );
    let count = 0;
    for (let i = 0; i < cuts; i++) {
      for (let j = 0; i + j < cuts; j++) {
        const u = (i + 1 / 3) / cuts;
        const v = (j + 1 / 3) / cuts;
        const at = [0, 1, 2].map((d) => p[d] + u * (q[d] - p[d]) + v * (r[d] - p[d]));
        out[t] += f(at[2] / Math.hypot(...at));
        count++;
      }
    }
    out[t] /= count;
    const e = [0, 1, 2].map((d) => q[d] - p[d]);
    const g = [0, 1, 2].map((d) => r[d] - p[d]);
    total +=
      (out[t] * Math.hypot(e[1] * g[2] - e[2] * g[1], e[2] * g[0] - e[0] * g[2], e[0] * g[1] - e[1] * g[0])) /
      2;
  }
  return flow === undefined ? out : out.map((v) => (v * flow) / total);
}

/** Spherical waves by their series: values at kr of j_n, y_n and h_n = j_n - i y_n with its derivative, n = 0 .. most. */
export function sphericalWaves(x: number, most: number) {
  const j = new Float64Array(most + 2);
  const y = new Float64Array(most + 2);
  y[0] = -Math.cos(x) / x;
  y[1] = -Math.cos(x) / x ** 2 - Math.sin(x) / x;
  for (let n = 1; n <= most; n++) y[n + 1] = ((2 * n + 1) / x) * y[n] - y[n - 1];
  // j by Miller's backward recurrence.
  let [above, here] = [0, 1e-30];
  const start = most + 30 + Math.ceil(x);
  const down = new Float64Array(start + 1);
  for (let n = start; n >= 0; n--) {
    down[n] = here;
    [above, here] = [here, ((2 * n + 1) / x) * here - above];
    if (Math.abs(here) > 1e200) {
      here /= 1e200;
      above /= 1e200;
      for (let k = n; k <= start; k++) down[k] /= 1e200;
    }
  }
  const scale =
    Math.abs(Math.sin(x)) > 0.1
      ? Math.sin(x) / x / down[0]
      : (Math.sin(x) / x ** 2 - Math.cos(x) / x) / down[1];
  for (let n = 0; n <= most + 1; n++) j[n] = down[n] * scale;
  const slope = (f: Float64Array, n: number): number => (n / x) * f[n] - f[n + 1];
  return {
    h: (n: number) => [j[n], -y[n]] as const,
    slope: (n: number) => [slope(j, n), -slope(y, n)] as const,
  };
}

/** Legendre polynomials P_0 .. P_most at x. */
export function legendre(x: number, most: number): number[] {
  const p = [1, x];
  for (let n = 1; n < most; n++) p.push(((2 * n + 1) * x * p[n] - n * p[n - 1]) / (n + 1));
  return p;
}

/** A circle as a polygon, anticlockwise. */
export const circle = (x: number, y: number, r: number): Polygon =>
  Float64Array.from({ length: 192 }, (_, i) => {
    const a = (Math.PI * (i - (i % 2))) / 96;
    return i % 2 === 0 ? x + r * Math.cos(a) : y + r * Math.sin(a);
  });

/** An egg-shaped body with a hole, about as large as a guitar. */
export const eggBody: ExteriorSpec = {
  outline: Float64Array.from({ length: 240 }, (_, i) => {
    const a = (Math.PI * (i - (i % 2))) / 120 + Math.PI;
    const r = 0.18 + 0.03 * Math.cos(2 * a);
    return i % 2 === 0 ? 0.24 + 1.15 * r * Math.cos(a) : r * Math.sin(a);
  }),
  top: { at: 0, perX: 0, dome: null },
  back: { at: -0.115, perX: 0.04, dome: { radius: 4.5, apex: [0.24, 0] } },
  hole: { polygon: circle(0.33, 0, 0.05), scoop: 0 },
};
