import type { CavityAir, StructureModes, StructureParts } from "./structureParts.ts";

/**
 * A box whose one wall is a plate on guided edges (zero slope, free deflection), everything in closed form:
 *   shape cos(m pi x/Lx) cos(n pi y/Ly), omega^2 = D k^4/m'', k^2 = (m pi/Lx)^2 + (n pi/Ly)^2
 * cavity modes of the rigid box: the same times cos(r pi z/d). SI.
 */
export interface GuidedBox {
  readonly length: number;
  readonly width: number;
  readonly depth: number;
  readonly D: number;
  readonly massPerArea: number;
  readonly density: number;
  readonly soundSpeed: number;
  /** Half waves along the plate. */
  readonly shape: readonly [m: number, n: number];
  /** Modes of the depth listed, and those kept as residual mass. */
  readonly listed: number;
  readonly residual: number;
}

export function guidedBox(b: GuidedBox): StructureParts {
  const { length: a, width, depth, density, soundSpeed } = b;
  const [m, n] = b.shape;
  const half = (k: number) => (k === 0 ? 1 : 0.5);
  const area = a * width * half(m) * half(n);
  const k2 = ((m * Math.PI) / a) ** 2 + ((n * Math.PI) / width) ** 2;
  // The piston (0, 0) has no stiffness of its own.
  const omega = Math.max(1e-3, Math.sqrt(b.D / b.massPerArea) * k2);
  const scale = 1 / Math.sqrt(b.massPerArea * area);
  // Mode 0 is the even pressure, which only the piston meets; psi = shape x cos(r pi z/d) after it.
  const piston = m === 0 && n === 0;
  const depths = Array.from({ length: b.listed + b.residual }, (_, r) => r).slice(piston ? 1 : 0);
  const square = (r: number) => soundSpeed ** 2 * (k2 + ((r * Math.PI) / depth) ** 2);
  const volume = (r: number) => area * depth * half(r);
  const wall = (r: number) => scale * area * (r % 2 ? -1 : 1);
  const listed = depths.slice(0, b.listed);
  const rest = depths.slice(b.listed).reduce((sum, r) => {
    const mass = (density * soundSpeed ** 2) / volume(r) / square(r);
    return sum + mass * wall(r) ** 2;
  }, 0);
  const cavity: CavityAir = {
    count: 1 + listed.length,
    omega: Float64Array.from([0, ...listed.map((r) => Math.sqrt(square(r)))]),
    volume: Float64Array.from([a * width * depth, ...listed.map(volume)]),
    heat: new Float64Array(1 + listed.length),
    friction: new Float64Array(1 + listed.length),
    leak: 0,
    wall: Float64Array.from([piston ? scale * a * width : 0, ...listed.map(wall)]),
    residual: Float64Array.of(rest),
    slope: new Float64Array(2 * (1 + listed.length)),
    aperture: null,
    air: { density, soundSpeed, heatRatio: 1.4, viscosity: 0, thermalDiffusivity: 0 },
  };
  return {
    body: oneMode(b, omega, scale),
    matrices: null,
    crowns: [{ string: 1, x: a / 3, y: 0, height: 0.01 }],
    strings: null,
    cavity,
    outside: null,
    air: cavity.air,
    topRim: null,
    topMean: null,
    basisToHz: 1500,
  };
}

function oneMode(b: GuidedBox, omega: number, scale: number): StructureModes {
  const { length: a, width } = b;
  const nodes = Float64Array.of(0, -width / 2, 0, a, -width / 2, 0, a, width / 2, 0, 0, width / 2, 0);
  const plan = Float64Array.of(0, -width / 2, a, -width / 2, a, width / 2, 0, width / 2);
  const triangles = Uint32Array.of(0, 1, 2, 0, 2, 3);
  const mesh = {
    nodes,
    triangles,
    boundary: [],
    ribs: [],
    plan: { nodes: plan, triangles, boundary: [], lines: [] },
  };
  const [m, n] = b.shape;
  const at = (x: number, y: number) =>
    scale * Math.cos((m * Math.PI * x) / a) * Math.cos(n * Math.PI * (y / width + 0.5));
  const shapes = new Float64Array(12);
  for (let k = 0; k < 4; k++) shapes[3 * k + 2] = at(plan[2 * k], plan[2 * k + 1]);
  return {
    count: 1,
    omega: Float64Array.of(omega),
    rigidCount: 0,
    surface: { nodes, triangles, part: Uint8Array.of(0, 0) },
    shapes,
    loss: new Float64Array(1),
    points: Float64Array.of(0, 0, at(a / 3, 0), 0, 0, 0),
    pointResidual: new Float64Array(36),
    energyShare: Float64Array.of(1, 0, 0, 0),
    volume: Float64Array.of(m === 0 && n === 0 ? scale * a * width : 0, 0, 0),
    mesh: { top: mesh, back: null, topNode: Uint32Array.of(0, 1, 2, 3), backNode: new Uint32Array(0) },
    totalMass: b.massPerArea * a * width,
  };
}
