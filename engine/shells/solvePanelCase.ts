import { polygonArea } from "#engine/geometry";
import { type Context, done, type Outcome } from "#engine/numerics";
import type { Panel } from "./panel.ts";
import type { PanelAnswer, PanelCase, PanelCaseLoad, StaticAnswer } from "./panelCase.ts";
import { panelModes } from "./panelModes.ts";
import { footprintRotation, panelStaticCases } from "./panelStatic.ts";
import { panelSystem } from "./panelSystem.ts";
import { panelMesh } from "./shellMesh.ts";

/**
 * Mesh size of a panel case, m, unless the caller asks for another: 8 mm for plates of a guitar's size, at least about
 * 12 elements across a smaller one, at most about 10 000 nodes on a larger one.
 */
function usualSize(panel: Panel): number {
  const area = Math.abs(polygonArea(panel.outline));
  return Math.max(Math.min(0.008, Math.sqrt(area) / 12), Math.sqrt(area / 8_000));
}

const components = ["Fx", "Fy", "Fz", "My"] as const;

/** Solves a case. Fails as meshing, factorisation and eigensolver do. */
export function solvePanelCase(c: PanelCase, ctx: Context, size = usualSize(c.panel)): Outcome<PanelAnswer> {
  const mesh = panelMesh(c.panel, size);
  if (!mesh.ok) return mesh;
  const system = panelSystem(c.panel, mesh.value);
  const nothing: StaticAnswer = { displacementsM: {}, bridgeRotationRad: null };
  if (c.analysis === "modes") {
    const modes = panelModes(system, c.modeCount, ctx);
    if (!modes.ok) return modes;
    const frequenciesHz = Array.from(modes.value.omega, (w) => w / (2 * Math.PI));
    return done({ frequenciesHz, massKg: system.totalMass, ...nothing, byComponent: {} }, [
      ...mesh.warnings,
      ...modes.warnings,
    ]);
  }
  // one case with everything, then one for each component that acts
  const acting = components.filter((name) => c.loads.some((l) => l[name] !== 0));
  const cases = [components as readonly string[], ...acting.map((name) => [name])].map((names) =>
    c.loads.map((l) => pressed(l, names)),
  );
  const points = Object.entries(c.points);
  const solved = panelStaticCases(
    system,
    cases,
    points.map(([, p]) => p),
  );
  if (!solved.ok) return solved;
  const bridge = c.panel.patches.find((p) => p.side === "outside");
  const answers = solved.value.map(
    (r): StaticAnswer => ({
      displacementsM: Object.fromEntries(
        points.map(([name], k) => [
          name,
          [r.points[6 * k], r.points[6 * k + 1], r.points[6 * k + 2]] as const,
        ]),
      ),
      bridgeRotationRad: bridge === undefined ? null : footprintRotation(system, r.motion, bridge.polygon),
    }),
  );
  return done(
    {
      frequenciesHz: [],
      massKg: system.totalMass,
      ...answers[0],
      byComponent: Object.fromEntries(acting.map((name, k) => [name, answers[k + 1]])),
    },
    [...mesh.warnings, ...solved.warnings],
  );
}

/** The load with only the named components. */
function pressed(
  l: PanelCaseLoad,
  names: readonly string[],
): Parameters<typeof panelStaticCases>[1][number][number] {
  const of = (name: (typeof components)[number]): number => (names.includes(name) ? l[name] : 0);
  return { polygon: l.polygon, force: [of("Fx"), of("Fy"), of("Fz")], couple: [0, of("My"), 0] };
}
