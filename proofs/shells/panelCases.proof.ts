import { readFileSync } from "node:fs";
import { opened, quiet } from "#engine/numerics";
import { readPanelCase, solvePanelCase } from "#engine/shells";
import { proof, type Slips } from "#proofs/harness";

/**
 * Every panel case against its solids, in units of its own tolerance: mode by mode in sorted order (what an outside
 * judge compares), mass, and for the static case uz at each point and the bridge's rotation, component by component.
 */
interface CaseFile {
  readonly panel: {
    material: Record<string, number>;
    thickness: number;
    braces: { material: Record<string, number> }[];
  };
  readonly reference: {
    readonly frequencies_hz: number[];
    readonly tolerance_rel: number[];
    readonly mass_kg: number;
    readonly by_component: Record<string, Component>;
    readonly total: Component;
  };
}
interface Component {
  readonly points: Record<string, { u: number[]; uz_tolerance: number }>;
  readonly bridge_rotation_rad: { value: number; tolerance: number };
}

const read = (name: string): CaseFile =>
  JSON.parse(readFileSync(new URL(`../reference/panel-cases/${name}.json`, import.meta.url), "utf8"));

/** The case with every modulus, the thickness or the density multiplied by a slip. */
function slipped(file: CaseFile, slip: Slips): CaseFile {
  const made = structuredClone(file);
  for (const m of [made.panel.material, ...made.panel.braces.map((b) => b.material)]) {
    for (const key of ["E", "EL", "ER", "GLR", "GLT", "GRT", "G"])
      if (key in m) m[key]! *= slip["stiffness"] ?? 1;
    m["rho"]! *= slip["density"] ?? 1;
  }
  made.panel.thickness *= slip["thickness"] ?? 1;
  return made;
}

const modal: readonly (readonly [name: string, slips: Slips])[] = [
  ["c01_iso_free_square", { stiffness: 1.03, density: 0.97 }],
  ["c02_ortho_hinged_rect", { stiffness: 1.03 }],
  ["c03_ortho_free_rect", { thickness: 1.02 }],
  ["c04_guitar_flat_hinged", { stiffness: 1.03 }],
  ["c06_guitar_dome_hinged", { density: 1.03 }],
  ["c07_rect_one_brace_hinged", { stiffness: 1.05 }],
  ["c07b_rect_one_brace_free", { stiffness: 1.05 }],
  ["c08_rect_three_crossing", { thickness: 0.95 }],
  ["c09_guitar_x_braced", { density: 1.06 }],
  ["c10_guitar_radial", { stiffness: 1.05 }],
];
for (const [name, mustNotice] of modal) {
  const file = read(name);
  const order = file.reference.frequencies_hz.map((_, i) => i);
  order.sort((i, j) => file.reference.frequencies_hz[i] - file.reference.frequencies_hz[j]);
  proof(
    `panel case ${name}: every mode and the mass, in tolerances`,
    {
      source: `PANEL-CASES ${name}`,
      quoted: new Array(order.length + 1).fill(0),
      absTol: 1,
      because:
        "the case's own tolerance for each mode; 0.2 % for the mass, of which a dome may have 0.1 % more than in plan",
      mustNotice,
    },
    (slip) => {
      const answer = opened(solvePanelCase(opened(readPanelCase(slipped(file, slip))), quiet));
      const { frequencies_hz: f, tolerance_rel: t, mass_kg } = file.reference;
      return [
        ...order.map((k, i) => (answer.frequenciesHz[i] / f[k] - 1) / t[k]),
        (answer.massKg / mass_kg - 1) / 0.002,
      ];
    },
  );
}

const bridge = read("c11_static_bridge_load");
const components = { ...bridge.reference.by_component, total: bridge.reference.total };
proof(
  "panel case c11_static_bridge_load: uz at five points and the bridge's rotation, in tolerances",
  {
    source: "PANEL-CASES c11",
    quoted: new Array(18).fill(0),
    absTol: 1,
    because: "the case's own tolerances: the shell has no stress concentration at the bridge's edges",
    mustNotice: { stiffness: 0.9 },
  },
  (slip) => {
    const answer = opened(solvePanelCase(opened(readPanelCase(slipped(bridge, slip))), quiet));
    return Object.entries(components).flatMap(([name, expected]) => {
      const found = name === "total" ? answer : answer.byComponent[name];
      return [
        ...Object.entries(expected.points).map(
          ([p, { u, uz_tolerance }]) => (found.displacementsM[p][2] - u[2]) / uz_tolerance,
        ),
        (found.bridgeRotationRad! - expected.bridge_rotation_rad.value) /
          expected.bridge_rotation_rad.tolerance,
      ];
    });
  },
);
