import { opened, quiet } from "#engine/numerics";
import {
  type BodyLoad,
  type BodyShellSpec,
  type BodySystem,
  bodyGauge,
  bodyStatic,
  bodyStrains,
  bodyStress,
  grownBody,
  growthLoad,
  type Panel,
} from "#engine/shells";
import { bodyOf } from "./bodyBoxes.ts";

/** A free plate as a body of its own. */
export function topOnly(top: Panel, size: number): BodySystem {
  const spec: BodyShellSpec = {
    top,
    back: null,
    heights: { depthAtTail: 0.1, depthAtNeck: 0.1, length: 0.5 },
    sides: null,
    blocks: [],
    neck: null,
    rods: [],
    masses: [],
    springs: [],
    support: "free",
  };
  return bodyOf(spec, size);
}

/** Its stresses and strains under loads in equilibrium. */
export function loadedTop(system: BodySystem, loads: readonly BodyLoad[]) {
  return lookedInto(system, opened(bodyStatic(system, [loads], quiet))[0].motion);
}

/** Its stresses and strains when its woods' moisture content rises by `moisture`. */
export function grownTop(system: BodySystem, moisture: number) {
  const grown = grownBody(system, { moisture, temperature: 0 });
  const rows = growthLoad(bodyGauge(grown));
  return lookedInto(grown, opened(bodyStatic(system, [[{ kind: "rows", rows }]], quiet))[0].motion);
}

function lookedInto(system: BodySystem, motion: Float64Array) {
  const gauge = bodyGauge(system);
  const strains = bodyStrains(gauge, motion);
  const found = strains.top;
  if (gauge.top === null || found === null) throw new Error("no top");
  const { mesh } = gauge.top;
  /** The eight strains (shear as forces) at the node nearest to a place. */
  const at = (x: number, y: number): Float64Array => {
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    found.node.forEach((node, k) => {
      const away = Math.hypot(mesh.plan.nodes[2 * node] - x, mesh.plan.nodes[2 * node + 1] - y);
      if (found.region[k] !== 0 && away < least) {
        least = away;
        best = k;
      }
    });
    return found.strains.subarray(8 * best, 8 * best + 8);
  };
  return { motion, stress: bodyStress(gauge, motion, strains), at, mesh };
}
