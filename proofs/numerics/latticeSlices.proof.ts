/**
 * A free box of masses on springs: its eigenvalues are sums of 2 - 2 cos(pi i / n), in closed form. Slices of the spectrum
 * high up, with six and more equal values in one place, most masses missing, and counts by Sturm at any place: found by the
 * WebAssembly kernels, which must be what ran.
 */
import {
  addElements,
  countBelow,
  joinSlices,
  modesBelow,
  modesBetween,
  opened,
  quiet,
  type SparseSymmetric,
  symmetricPattern,
} from "#engine/numerics";
import { wasmKernels } from "#kernels";
import { proof } from "#proofs/harness";

const context = { ...quiet, kernels: wasmKernels };
const sides = [14, 14, 14];
const sources = { source: "CLOSED-FORM (2 - 2 cos(pi i / n) summed over the directions)" };

/** `parts` equal springs in a row stand for each spring: the masses between them are missing. */
function box(stiffness: number, mass: number, parts: number): { k: SparseSymmetric; m: SparseSymmetric } {
  const points = sides.reduce((product, s) => product * s, 1);
  const links: number[][] = [];
  let n = points;
  let stride = 1;
  for (const side of sides) {
    for (let i = 0; i < points; i++) {
      if ((Math.floor(i / stride) % side) + 1 === side) continue;
      const chain = [i, ...Array.from({ length: parts - 1 }, () => n++), i + stride];
      for (let c = 0; c < parts; c++) links.push([chain[c]!, chain[c + 1]!]);
    }
    stride *= side;
  }
  const k = symmetricPattern(
    n,
    links.map((l) => Int32Array.from(l)),
  );
  const s = stiffness * parts;
  for (const l of links) addElements([k], Int32Array.from(l), [Float64Array.of(s, -s, -s, s)]);
  const m = symmetricPattern(n, []);
  for (let i = 0; i < points; i++) m.values[i] = mass;
  return { k, m };
}

const exact = sides
  .map((n) => Array.from({ length: n }, (_, i) => 2 - 2 * Math.cos((Math.PI * i) / n)))
  .reduce((sums, one) => sums.flatMap((s) => one.map((v) => s + v)), [0])
  .sort((a, b) => a - b);

/** Half-way between two eigenvalues that differ, near the wanted one. */
function between(index: number): number {
  let i = index;
  while (exact[i]! - exact[i - 1]! < 1e-6) i++;
  return 0.5 * (exact[i]! + exact[i - 1]!);
}

const places = [7, 40, 123, 400, 1372, 2000].map(between);
proof(
  "Sturm counts below six places of a lattice's spectrum",
  {
    ...sources,
    quoted: places.map((p) => exact.filter((v) => v < p).length),
    absTol: 0.1,
    because: "a count is a whole number",
    mustNotice: { stiffness: 0.99, mass: 1.01 },
  },
  (slip) => {
    const { k, m } = box(slip["stiffness"] ?? 1, slip["mass"] ?? 1, 1);
    return places.map((place) => opened(countBelow(k, m, place, {}, context)));
  },
);

for (const parts of [1, 2]) {
  const [low, high] = [between(25), between(60)];
  const wanted = exact.filter((v) => v < high);
  proof(
    `all modes of a lattice in two slices that prove each other, multiplicity up to six${parts > 1 ? ", most unknowns without mass" : ""}`,
    {
      ...sources,
      quoted: wanted,
      absTol: 1e-11,
      because: "rounding: 1e-16 of the largest stiffness, 12, a hundred times over",
      mustNotice: { stiffness: 1 + 1e-9, mass: 1 - 1e-9 },
    },
    (slip) => {
      const { k, m } = box(slip["stiffness"] ?? 1, slip["mass"] ?? 1, parts);
      const first = opened(modesBelow(k, m, { to: low, countTo: false, expected: 30 }, context));
      const second = opened(modesBetween(k, m, { from: low, to: high, countFrom: false }, context));
      if (first.ran !== "wasm" || second.ran !== "wasm") throw new Error("the wasm kernels did not run");
      return opened(joinSlices([first, second])).values;
    },
  );
}
