/** Sections and height profiles of braces, where they are known in closed form. */
import { braceHeights, type HeightProfile, sectionProperties } from "#engine/geometry";
import { opened } from "#engine/numerics";
import { proof } from "#proofs/harness";

const b = 0.008;
const h = 0.015;

proof(
  "area, centroid and second moment of a rectangle, a triangle and a parabolic arch, 8 mm wide and 15 mm high",
  {
    source: "CLOSED-FORM bh, h/2, bh^3/12; bh/2, h/3, bh^3/36; 2bh/3, 2h/5, 8bh^3/175",
    quoted: [
      [b * h, h / 2, (b * h ** 3) / 12],
      [(b * h) / 2, h / 3, (b * h ** 3) / 36],
      [(2 * b * h) / 3, (2 * h) / 5, (8 * b * h ** 3) / 175],
    ].flat(),
    relTol: 1e-12,
    because: "both are closed forms; the code puts walls and top together by the parallel-axis rule",
    mustNotice: { width: 1.000001, height: 1.000001 },
  },
  (slip) =>
    [
      { kind: "rectangular" } as const,
      { kind: "triangular", wall: 0 } as const,
      { kind: "parabolic", wall: 0 } as const,
    ]
      .map((section) => sectionProperties(section, b * (slip.width ?? 1), h * (slip.height ?? 1)))
      .flatMap(({ area, centroid, inertia }) => [area, centroid, inertia]),
);

proof(
  "side area of a tapered and of a scalloped brace 300 mm long: half of each scoop's box is taken off",
  {
    // A half cosine wave has the mean 1/2: each tip takes off (H - tip) x tip length / 2, the valley (H - v) x length / 2.
    source: "CLOSED-FORM",
    quoted: [
      0.3 * 0.014 - (0.012 * 0.05) / 2 - (0.011 * 0.06) / 2,
      0.3 * 0.014 - (0.012 * 0.05) / 2 - (0.011 * 0.06) / 2 - (0.008 * 0.12) / 2,
    ],
    relTol: 1e-9,
    because: "the trapezium rule is exact for a half cosine wave cut into equal steps",
    mustNotice: { tip: 1.0001, length: 1.0001 },
  },
  (slip) => {
    const tips = {
      tipHeight: [0.002 * (slip.tip ?? 1), 0.003] as const,
      tipLength: [0.05, 0.06] as const,
    };
    const profiles: HeightProfile[] = [
      { kind: "tapered", ...tips },
      { kind: "scalloped", ...tips, valleyAt: 0.15, valleyHeight: 0.006, valleyLength: 0.12 },
    ];
    return profiles.map((profile) => {
      const brace = { width: b, height: 0.014, section: { kind: "rectangular" }, profile } as const;
      const rows = opened(braceHeights(brace, 0.3 * (slip.length ?? 1)));
      return rows
        .slice(1)
        .reduce((sum, [s, height], i) => sum + ((height + rows[i][1]) / 2) * (s - rows[i][0]), 0);
    });
  },
);
