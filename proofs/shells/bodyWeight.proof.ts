import { proof } from "#proofs/harness";
import { bodyOf, plainBox } from "./bodyBoxes.ts";

const box = { length: 0.3, width: 0.2, depth: 0.08, thickness: 0.003, E: 10e9, nu: 0.3, density: 500 };

/** Mass, centre of mass and central moments of inertia about x, y, z of a box of five walls' thickness t. */
function weighed(): number[] {
  const { length: L, width: W, depth: D, thickness: t, density } = box;
  const plate = density * t * (L + t) * (W + t);
  const long = density * t * (L + t) * (D - t);
  const short = density * t * (W - t) * (D - t);
  const mass = 2 * (plate + long + short);
  const about = (
    at: (along: number, across: number, up: number, cx: number, cy: number, cz: number) => number,
  ) =>
    2 * plate * at(L + t, W + t, t, 0, 0, D / 2) +
    2 * long * at(L + t, t, D - t, 0, W / 2, 0) +
    2 * short * at(t, W - t, D - t, L / 2, 0, 0);
  return [
    mass,
    (L + t) / 2,
    (W + t) / 2,
    -D / 2,
    about((_a, b, c, _x, y, z) => (b * b + c * c) / 12 + y * y + z * z),
    about((a, _b, c, x, _y, z) => (a * a + c * c) / 12 + x * x + z * z),
    about((a, b, _c, x, y) => (a * a + b * b) / 12 + x * x + y * y),
  ];
}

proof(
  "a closed box weighs, balances and turns as its six walls do: mass, centre of mass, moments of inertia",
  {
    source: "CLOSED-FORM boxes with the parallel-axis rule",
    quoted: weighed(),
    relTol: 3e-3,
    because:
      "the overhang of a plate rides on its edge and the sides reach to the plates' middles: t / D of a part in twenty",
    mustNotice: { thickness: 1.005, depth: 1.01, density: 1.005 },
  },
  (slip) => {
    const { rigidMass: m } = bodyOf(
      plainBox({
        ...box,
        thickness: box.thickness * (slip["thickness"] ?? 1),
        depth: box.depth * (slip["depth"] ?? 1),
        density: box.density * (slip["density"] ?? 1),
      }),
      0.02,
    );
    const at = (i: number, j: number): number => m[6 * i + j] as number;
    const mass = at(2, 2);
    const [x, y, z] = [at(1, 5) / mass, at(2, 3) / mass, at(0, 4) / mass];
    return [
      mass,
      x,
      y,
      z,
      at(3, 3) - mass * (y * y + z * z),
      at(4, 4) - mass * (x * x + z * z),
      at(5, 5) - mass * (x * x + y * y),
    ];
  },
);
