import { marksOf, modeSheet } from "#engine/drawings";
import { proof } from "#proofs/harness";

/** Bessel function of the first kind, order 0, by its power series: good to 1e-12 for x up to 6. */
function besselJ0(x: number): number {
  let [term, sum] = [1, 1];
  for (let k = 1; k < 40; k++) {
    term *= -(x * x) / (4 * k * k);
    sum += term;
  }
  return sum;
}

const secondZero = 5.520078110286311;
const rings = 60;
const around = 120;

/** A disc of unit radius in rings of triangles, with its middle node first. */
function disc(): { nodes: Float64Array; triangles: Uint32Array } {
  const nodes = [0, 0];
  for (let i = 1; i <= rings; i++) {
    for (let j = 0; j < around; j++) {
      const angle = (2 * Math.PI * j) / around;
      nodes.push((i / rings) * Math.cos(angle), (i / rings) * Math.sin(angle));
    }
  }
  const at = (i: number, j: number) => 1 + (i - 1) * around + (j % around);
  const triangles: number[] = [];
  for (let j = 0; j < around; j++) {
    triangles.push(0, at(1, j), at(1, j + 1));
    for (let i = 1; i < rings; i++) {
      triangles.push(at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j), at(i + 1, j + 1), at(i, j + 1));
    }
  }
  return { nodes: Float64Array.from(nodes), triangles: Uint32Array.from(triangles) };
}

/** Radius of the drawn nodal circle over that of the drawn edge; `pitch` multiplies the mode's radial wavenumber. */
function drawnRadius(pitch: number): number {
  const mesh = disc();
  const motion = Float64Array.from({ length: mesh.nodes.length / 2 }, (_, n) =>
    besselJ0(secondZero * pitch * Math.hypot(mesh.nodes[2 * n]!, mesh.nodes[2 * n + 1]!)),
  );
  const edge = mesh.nodes.slice(2 * (1 + (rings - 1) * around));
  const nothing = new Float64Array(0);
  const plan = {
    outline: edge,
    hole: nothing,
    openEdge: [],
    braces: [],
    bridge: nothing,
    patches: [],
    bridgePlate: null,
    saddle: [
      [0, 0],
      [0, 0],
    ] as const,
  };
  const mode = {
    frequencyHz: 1,
    q: 1,
    effectiveMassKg: null,
    name: null,
    topMotion: motion,
    backMotion: motion,
  };
  const drawing = modeSheet(mode, { plan, plates: { top: mesh, back: mesh }, hand: "right" })!;
  const diameter = (name: string): number => {
    const [mark] = marksOf(drawing, name).filter((m) => m.kind === "path" && m.closed && m.pieces.length > 0);
    if (mark?.kind !== "path") throw new Error(`no ${name} in the drawing`);
    const xs = mark.pieces[0]!.filter((_, i) => i % 2 === 0);
    return Math.max(...xs) - Math.min(...xs);
  };
  // The drawing is 44 mm wide with 1 mm of margin on both sides.
  return diameter("nodal line") / 42;
}

proof(
  "the nodal circle of a membrane's second round mode is drawn where it is",
  {
    source: "CLOSED-FORM zeros of J0: 2.404826 / 5.520078",
    quoted: 0.4356507,
    relTol: 3e-3,
    because: "straight lines between rings a sixtieth of the radius apart, chains thinned to 0.05 mm of 9 mm",
    mustNotice: { pitch: 1.01 },
  },
  (slip) => drawnRadius(slip["pitch"] ?? 1),
);
