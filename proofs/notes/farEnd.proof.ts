import { type BridgeModes, coupledAtBothEnds, type FarEnd } from "#engine/notes";
import { complexLu, complexLuSolve, opened } from "#engine/numerics";
import type { StretchedString } from "#engine/strings";
import { proof, type Slips } from "#proofs/harness";

const length = 0.46;
const string: StretchedString = {
  length,
  linearDensity: 4.2e-3,
  tension: 78,
  bendingStiffness: 0,
  loss: { friction: 8e-4, bending: 0, air: 0 },
};
const maxFrequency = 700;

/** Modes that move both ends, in slanting directions: one of a neck, moving the fret most, one on the second partial, one of a top. */
function body(slip: Slips): { readonly modes: BridgeModes; readonly far: FarEnd } {
  const hz = [66, 148, 151, 241, 297.5, 455];
  const crown = [-0.6, 0.1, 1.6, 0.3, 0.5, 0.2, 0.9, -0.4, 0.3, 1.1, 2.1, 0.4];
  const fret = [1.4, 0.3, -0.2, 0.9, 2.2, 0.6, -1.7, 0.8, 0.4, -1.3, 0.7, 0.5];
  const scale = slip["fret"] ?? 1;
  return {
    modes: {
      omega: Float64Array.from(hz, (f) => 2 * Math.PI * f),
      q: Float64Array.of(90, 45, 60, 55, 70, 40),
      shape: Float64Array.from({ length: 18 }, (_, k) =>
        k % 3 === 2 ? 0.2 : crown[2 * Math.floor(k / 3) + (k % 3)]!,
      ),
      residual: new Float64Array(9),
      pressure: new Float64Array(6),
    },
    far: { shape: Float64Array.from(fret, (v) => scale * v) },
  };
}

interface Pole {
  readonly omega: number;
  readonly decay: number;
}

function poles(s: StretchedString, { modes, far }: ReturnType<typeof body>): readonly Pole[] {
  const found = opened(coupledAtBothEnds(s, modes, far, maxFrequency));
  return Array.from(found.omega, (omega, r) => ({ omega, decay: found.decay[r]! }));
}

/** Elements of the string, each of four nodes: the cubic through them. */
const elements = 20;

/** Stiffness (over T/h) and mass (over mu h) of one element by Gauss's rule of five points, exact for the products of cubics. */
function element(): { readonly k: number[]; readonly m: number[] } {
  const nodes = [0, 1 / 3, 2 / 3, 1];
  const gauss: readonly (readonly [number, number])[] = [
    [0, 128 / 225],
    ...[1, -1].flatMap((sign) =>
      [1, -1].map((root): readonly [number, number] => [
        (sign / 3) * Math.sqrt(5 - root * 2 * Math.sqrt(10 / 7)),
        (322 + root * 13 * Math.sqrt(70)) / 900,
      ]),
    ),
  ];
  const shape = (i: number, x: number) =>
    nodes.reduce((p, n, j) => (j === i ? p : (p * (x - n)) / (nodes[i]! - n)), 1);
  const slope = (i: number, x: number) =>
    nodes.reduce(
      (sum, a, j) =>
        j === i
          ? sum
          : sum +
            nodes.reduce((p, n, l) => (l === i || l === j ? p : (p * (x - n)) / (nodes[i]! - n)), 1) /
              (nodes[i]! - a),
      0,
    );
  const k = new Array<number>(16).fill(0);
  const m = new Array<number>(16).fill(0);
  for (const [x, w] of gauss) {
    const at = (x + 1) / 2;
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j < 4; j++) {
        k[4 * i + j]! += (w / 2) * slope(i, at) * slope(j, at);
        m[4 * i + j]! += (w / 2) * shape(i, at) * shape(j, at);
      }
    }
  }
  return { k, m };
}

/**
 * The same body and string as dense matrices, the string a chain of finite elements whose end nodes move with the modes:
 * K x = lambda M x, K complex. Unknowns: modes, then the inner nodes of both directions.
 */
function chain(s: StretchedString, { modes, far }: ReturnType<typeof body>) {
  const count = modes.omega.length;
  const inner = 3 * elements - 1;
  const n = count + 2 * inner;
  const re = new Float64Array(n * n);
  const im = new Float64Array(n * n);
  const mass = new Float64Array(n * n);
  for (let i = 0; i < count; i++) {
    re[i * n + i] = modes.omega[i]! ** 2;
    im[i * n + i] = modes.omega[i]! ** 2 / modes.q[i]!;
    mass[i * n + i] = 1;
  }
  const { k, m } = element();
  const h = s.length / elements;
  for (let d = 0; d < 2; d++) {
    // a node as a list of unknowns with weights; node 0 is the crown, the last one the fret
    const node = (at: number): readonly (readonly [number, number])[] => {
      if (at > 0 && at <= inner) return [[count + d * inner + at - 1, 1]];
      return Array.from({ length: count }, (_, i) => [
        i,
        at === 0 ? modes.shape[3 * i + d]! : far.shape[2 * i + d]!,
      ]);
    };
    for (let e = 0; e < elements; e++) {
      for (let i = 0; i < 4; i++) {
        for (let j = 0; j < 4; j++) {
          const stiffness = (s.tension / h) * k[4 * i + j]!;
          const inertia = s.linearDensity * h * m[4 * i + j]!;
          for (const [p, v] of node(3 * e + i)) {
            for (const [q, w] of node(3 * e + j)) {
              re[p * n + q]! += v * w * stiffness;
              im[p * n + q]! += v * w * stiffness * s.loss.friction;
              mass[p * n + q]! += v * w * inertia;
            }
          }
        }
      }
    }
  }
  return { n, re, im, mass };
}

/** The pole of the chain nearest to a guess: inverse iteration, then the quotient x' K x/x' M x (no conjugates). */
function nearest(c: ReturnType<typeof chain>, { omega, decay }: Pole): Pole {
  const { n } = c;
  let lr = omega * omega - decay * decay;
  let li = 2 * omega * decay;
  let xr = Float64Array.from({ length: n }, (_, i) => Math.cos(i));
  let xi = Float64Array.from({ length: n }, (_, i) => Math.sin(3 * i));
  for (let step = 0; step < 3; step++) {
    // a hair off, so that the matrix is not singular
    const [ar, ai] = [lr * (1 + 1e-7), li];
    const lu = opened(
      complexLu(
        c.re.map((v, k) => v - ar * c.mass[k]!),
        c.im.map((v, k) => v - ai * c.mass[k]!),
        n,
      ),
    );
    for (let again = 0; again < 3; again++) {
      const y = complexLuSolve(lu, times(c.mass, xr), times(c.mass, xi));
      const size = Math.hypot(...y.re, ...y.im);
      xr = y.re.map((v) => v / size);
      xi = y.im.map((v) => v / size);
    }
    const [mr, mi] = form(c.mass, null, xr, xi);
    const [kr, ki] = form(c.re, c.im, xr, xi);
    const square = mr * mr + mi * mi;
    lr = (kr * mr + ki * mi) / square;
    li = (ki * mr - kr * mi) / square;
  }
  const w = Math.sqrt((Math.hypot(lr, li) + lr) / 2);
  return { omega: w, decay: li / (2 * w) };
}

function times(a: Float64Array, x: Float64Array): Float64Array {
  const n = x.length;
  return Float64Array.from({ length: n }, (_, i) => {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += a[i * n + j]! * x[j]!;
    return sum;
  });
}

/** x' A x without conjugates. */
function form(
  re: Float64Array,
  im: Float64Array | null,
  xr: Float64Array,
  xi: Float64Array,
): readonly [number, number] {
  const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, v, i) => sum + v * b[i]!, 0);
  const [rr, ri] = [times(re, xr), times(re, xi)];
  const [ir, ii] = im === null ? [rr.map(() => 0), rr.map(() => 0)] : [times(im, xr), times(im, xi)];
  const yr = rr.map((v, i) => v - ii[i]!);
  const yi = ri.map((v, i) => v + ir[i]!);
  return [dot(xr, yr) - dot(xi, yi), dot(xr, yi) + dot(xi, yr)];
}

const whole = body({});
const guesses = poles(string, whole);
const dense = guesses.map((pole) => nearest(chain(string, whole), pole));
const because =
  "the chain's cubic elements err by 1e-6 at the fourth partial; distant modes are a straight line along each root";

proof(
  "a string between two ends of one body, six slanting modes: frequency of every coupled mode, Hz",
  {
    source: "CLOSED-FORM dense finite-element chain between the same ends, inverse iteration",
    quoted: dense.map((p) => p.omega / (2 * Math.PI)),
    relTol: 2e-6,
    because,
    mustNotice: { fret: 1.02, tension: 1.0001 },
  },
  (slip) =>
    poles({ ...string, tension: string.tension * (slip["tension"] ?? 1) }, body(slip)).map(
      (p) => p.omega / (2 * Math.PI),
    ),
);

proof(
  "its decay rates, 1/s: no mode twice, none missing",
  {
    source: "CLOSED-FORM dense finite-element chain between the same ends, inverse iteration",
    quoted: [...dense.map((p) => p.decay), 2 * 4 + 6],
    relTol: 2e-4,
    because,
    mustNotice: { fret: 1.02, loss: 1.01 },
  },
  (slip) => {
    const friction = string.loss.friction * (slip["loss"] ?? 1);
    const found = poles({ ...string, loss: { ...string.loss, friction } }, body(slip));
    const distinct = dense.filter(
      (p, i) =>
        !dense.some((q, j) => j < i && Math.hypot(q.omega - p.omega, q.decay - p.decay) < 1e-6 * p.omega),
    );
    return [...found.map((p) => p.decay), distinct.length];
  },
);

proof(
  "the string does not know which of its ends is the crown: frequencies and decay rates with the ends exchanged",
  {
    source: "CLOSED-FORM symmetry of the string",
    quoted: guesses.flatMap((p) => [p.omega, p.decay]),
    relTol: 1e-9,
    because: "rounding and the roots' own tolerance",
    mustNotice: { fret: 1.001 },
  },
  (slip) => {
    const { modes, far } = body(slip);
    const crown = Float64Array.from({ length: 12 }, (_, k) => modes.shape[3 * (k >> 1) + (k & 1)]!);
    const swapped = {
      modes: {
        ...modes,
        shape: Float64Array.from({ length: 18 }, (_, k) =>
          k % 3 === 2 ? 0.2 : far.shape[2 * Math.floor(k / 3) + (k % 3)]!,
        ),
      },
      far: { shape: crown },
    };
    return poles(string, swapped).flatMap((p) => [p.omega, p.decay]);
  },
);

const scale = 0.65;
const open = 98;
const frets = 16;
/** A bending mode of a neck: still at the body (fret 16 here), an antinode about fret 7, its frequency between those of frets 5 and 6. */
const neck = { frequency: 134.6, q: 55, mass: 5 };

function neckShape(fret: number, slip: Slips): number {
  const s = (fret + (slip["place"] ?? 0)) / frets;
  return Math.sin(Math.PI * (0.08 + 0.92 * s)) ** 2 / Math.sqrt(neck.mass * (slip["mass"] ?? 1));
}

/** T60 of the fundamental at every fret, crown rigid. */
function decays(slip: Slips): number[] {
  return Array.from({ length: frets + 1 }, (_, fret) => {
    const l = scale * 2 ** (-fret / 12);
    const s: StretchedString = {
      ...string,
      length: l,
      tension: string.linearDensity * (2 * scale * open) ** 2,
    };
    const modes: BridgeModes = {
      omega: Float64Array.of(2 * Math.PI * neck.frequency * (slip["frequency"] ?? 1)),
      q: Float64Array.of(neck.q),
      shape: new Float64Array(3),
      residual: new Float64Array(9),
      pressure: new Float64Array(1),
    };
    const far = { shape: Float64Array.of(neckShape(fret, slip), 0) };
    const found = opened(coupledAtBothEnds(s, modes, far, 1.5 * open * 2 ** (fret / 12)));
    const own = Array.from(found.partial.keys()).filter((r) => found.partial[r] === 1);
    return Math.log(1000) / Math.max(...own.map((r) => found.decay[r]!));
  });
}

/** Rate = eta w/2 + 2 f Z G, G the neck's conductance at the fret and the note's frequency. */
const foreseen = Array.from({ length: frets + 1 }, (_, fret) => {
  const f = open * 2 ** (fret / 12);
  const w = 2 * Math.PI * f;
  const wn = 2 * Math.PI * neck.frequency;
  const impedance = string.linearDensity * 2 * scale * open;
  const loss = (wn * wn) / neck.q;
  const conductance = (neckShape(fret, {}) ** 2 * w * loss) / ((wn * wn - w * w) ** 2 + loss ** 2);
  const rate = 0.5 * string.loss.friction * w + 2 * f * impedance * conductance;
  return Math.log(1000) / rate;
});

proof(
  "a dead spot lies where an antinode of the neck meets a note of the neck's own frequency: T60 at frets 0 to 16 by the neck's conductance",
  {
    source:
      "CLOSED-FORM rate 2 f Z G of an end of conductance G; that decay falls where the neck's conductance at the fret is high: Fleischer and Zwicker, Acustica 84 (1998), from memory",
    quoted: foreseen,
    relTol: 0.05,
    because: "to first order in Z G: the coupling at the dead spots is (g over the distance)^2 = 2 %",
    mustNotice: { place: 2, frequency: 1.03, mass: 1.2 },
  },
  decays,
);
