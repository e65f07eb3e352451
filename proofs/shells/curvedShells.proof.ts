import { proof, type Slips } from "#proofs/harness";
import { facetAreas, nodeAt, sheetMotion, sheetSystem } from "./mappedShells.ts";

const near = (v: number, at: number): boolean => Math.abs(v - at) < 1e-6 * (1 + Math.abs(at));

/**
 * Scordelis-Lo roof: a cylinder R 25, length 50, half angle 40 degrees, t 0.25, E 4.32e8, nu 0, 90 per area downwards;
 * its curved ends on diaphragms (no motion in their plane), its straight edges free.
 */
function roofSag(slip: Slips): number {
  const [R, L] = [25, 50];
  const half = (40 * Math.PI) / 180;
  const arc = 2 * half * R;
  const sheet = sheetSystem({
    a: L,
    b: arc,
    E: 4.32e8 * (slip["stiffness"] ?? 1),
    nu: 0,
    thickness: 0.25 * (slip["thickness"] ?? 1),
    size: L / 40,
    place: (s, t) => [s, R * Math.sin(t / R - half), R * Math.cos(t / R - half)],
  });
  const middle = nodeAt(sheet.plan, L / 2, arc / 2);
  const areas = facetAreas(sheet.system.mesh);
  const u = sheetMotion(
    sheet,
    (s, t) => [
      ...(near(s, 0) || near(s, L) ? [1, 2] : []),
      ...(nodeAt(sheet.plan, s, t) === middle ? [0] : []),
    ],
    (node) => [0, 0, -90 * areas[node], 0, 0, 0],
  );
  return -u[6 * nodeAt(sheet.plan, L / 2, 0) + 2];
}

proof(
  "Scordelis-Lo roof: sag at the middle of the free edge",
  {
    source: "MACNEAL-1985 shell.scordelis",
    quoted: 0.3024,
    relTol: 0.01,
    because: "flat facets, 40 along the roof; 0.3006 is the thin-shell value, 0.3024 the shear-flexible one",
    mustNotice: { stiffness: 1.03, thickness: 1.03 },
  },
  roofSag,
);

/**
 * Pinched hemisphere with an 18 degree hole: R 10, t 0.04, E 6.825e7, nu 0.3; unit forces on a quarter at the equator, out
 * along x and in along y; edges free, the quarter's sides planes of symmetry.
 */
function hemisphere(slip: Slips): number[] {
  const R = 10;
  const [a, b] = [(Math.PI / 2) * R, (72 / 180) * Math.PI * R];
  const sheet = sheetSystem({
    a,
    b,
    E: 6.825e7 * (slip["stiffness"] ?? 1),
    nu: 0.3,
    thickness: 0.04 * (slip["thickness"] ?? 1),
    size: a / 36,
    place: (s, t) => [
      R * Math.cos(s / R) * Math.cos(t / R),
      R * Math.sin(s / R) * Math.cos(t / R),
      R * Math.sin(t / R),
    ],
  });
  const [out, inward] = [nodeAt(sheet.plan, 0, 0), nodeAt(sheet.plan, a, 0)];
  const u = sheetMotion(
    sheet,
    (s, t) => [
      ...(near(s, 0) ? [1, 3, 5] : near(s, a) ? [0, 4, 5] : []),
      ...(near(s, 0) && near(t, 0) ? [2] : []),
    ],
    (node) =>
      node === out ? [1, 0, 0, 0, 0, 0] : node === inward ? [0, -1, 0, 0, 0, 0] : [0, 0, 0, 0, 0, 0],
  );
  return [u[6 * out], -u[6 * inward + 1]];
}

proof(
  "pinched hemisphere with a hole of 18 degrees: motion of both loads",
  {
    source: "HEMI shell.hemi18",
    quoted: [0.094, 0.094],
    relTol: 0.02,
    because: "the source's own 2 %: 0.093 and 0.094 both circulate for this case",
    mustNotice: { stiffness: 1.05, thickness: 1.02 },
  },
  hemisphere,
);

/** Pinched cylinder with end diaphragms: R 300, L 600, t 3, E 3e6, nu 0.3, two unit loads; one eighth of it. */
function cylinder(slip: Slips): number {
  const [R, half] = [300, 300];
  const b = (Math.PI / 2) * R;
  const sheet = sheetSystem({
    a: half,
    b,
    E: 3e6 * (slip["stiffness"] ?? 1),
    nu: 0.3,
    thickness: 3 * (slip["thickness"] ?? 1),
    size: half / 34,
    place: (s, t) => [s, R * Math.sin(t / R), R * Math.cos(t / R)],
  });
  const crown = nodeAt(sheet.plan, 0, 0);
  const u = sheetMotion(
    sheet,
    (s, t) => [
      ...(near(s, 0) ? [0, 4, 5] : near(s, half) ? [1, 2] : []),
      ...(near(t, 0) ? [1, 3, 5] : near(t, b) ? [2, 3, 4] : []),
    ],
    (node) => [0, 0, node === crown ? -0.25 : 0, 0, 0, 0],
  );
  return -u[6 * crown + 2];
}

proof(
  "pinched cylinder with end diaphragms: motion under the load",
  {
    source: "MACNEAL-1985 shell.pinchcyl",
    quoted: 1.8248e-5,
    relTol: 0.03,
    because: "the source's tolerance at 32 x 32 elements; flat facets of the same size",
    mustNotice: { stiffness: 1.06, thickness: 1.05 },
  },
  cylinder,
);

/** Twisted beam: 12 long, 1.1 wide, 0.32 thick, twisted by 90 degrees, E 2.9e7, nu 0.22; clamped, unit load at its end. */
function twistedBeam(slip: Slips): number[] {
  const [L, w] = [12, 1.1];
  const sheet = sheetSystem({
    a: L,
    b: w,
    E: 2.9e7 * (slip["stiffness"] ?? 1),
    nu: 0.22,
    thickness: 0.32 * (slip["thickness"] ?? 1),
    size: w / 8,
    place: (s, t) => {
      const angle = ((slip["twist"] ?? 1) * (Math.PI / 2) * s) / L;
      return [s, (t - w / 2) * Math.cos(angle), (t - w / 2) * Math.sin(angle)];
    },
  });
  const end = nodeAt(sheet.plan, L, w / 2);
  const held = (s: number): number[] => (near(s, 0) ? [0, 1, 2, 3, 4, 5] : []);
  // at its end the beam's width lies along z
  return [2, 1].map((m) => {
    const u = sheetMotion(sheet, held, (node) =>
      [0, 0, 0, 0, 0, 0].map((_, q) => (node === end && q === m ? 1 : 0)),
    );
    return u[6 * end + m];
  });
}

proof(
  "twisted beam: motion of its end under a unit load in its plane and out of it",
  {
    source: "TWISTED shell.twisted",
    quoted: [0.005424, 0.001754],
    relTol: 0.01,
    because: "the source's own 1 %; eight facets over the width",
    mustNotice: { stiffness: 1.03, thickness: 1.02, twist: 0.9 },
  },
  twistedBeam,
);
