import type { Polygon, Polyline } from "#engine/geometry";
import type { BodyShellSpec, Panel } from "#engine/shells";

type Triple = readonly [x: number, y: number, z: number];

/**
 * The body turned over left to right (outline with cutaway and hole, braces, blocks, rods, patches of the plates) under the same
 * neck, strings, bridge and bridge plate: what the cutaway on the other side does. `keeps(k)`: patch k of the top stays.
 */
export function mirroredShell(spec: BodyShellSpec, keeps: (patch: number) => boolean): BodyShellSpec {
  const { sides } = spec;
  return {
    ...spec,
    top: spec.top === null ? null : mirroredPanel(spec.top, keeps),
    back: spec.back === null ? null : mirroredPanel(spec.back, () => false),
    sides:
      sides === null
        ? null
        : {
            ...sides,
            outline: turnedOver(sides.outline),
            open: sides.open.map(mirroredLine),
            plies: sides.plies.map((ply) => ({ ...ply, grainAngle: -ply.grainAngle })),
          },
    blocks: spec.blocks.map((b) => ({ ...b, centre: mirrored(b.centre) })),
    rods: spec.rods.map((r) => ({ ...r, from: mirrored(r.from), to: mirrored(r.to) })),
  };
}

function mirroredPanel(panel: Panel, keeps: (patch: number) => boolean): Panel {
  const { dome, thickness } = panel;
  return {
    ...panel,
    outline: turnedOver(panel.outline),
    holes: panel.holes.map(turnedOver),
    dome: dome === null ? null : { ...dome, apex: [dome.apex[0], -dome.apex[1]] },
    thickness:
      typeof thickness === "number" ? thickness : { spots: thickness.spots.map(([x, y, t]) => [x, -y, t]) },
    grainAngle: -panel.grainAngle,
    ribs: panel.ribs.map((rib) => ({ ...rib, path: mirroredLine(rib.path) })),
    patches: panel.patches.map((patch, k) =>
      keeps(k) ? patch : { ...patch, polygon: turnedOver(patch.polygon), grainAngle: -patch.grainAngle },
    ),
  };
}

function mirrored([x, y, z]: Triple): Triple {
  return [x, -y, z];
}

function mirroredLine(line: Polyline): Float64Array {
  return Float64Array.from(line, (v, i) => (i % 2 === 1 ? -v : v));
}

/** Mirrored, and run through the other way so that it still turns the same. */
function turnedOver(polygon: Polygon): Float64Array {
  const out = new Float64Array(polygon.length);
  const n = polygon.length / 2;
  for (let i = 0; i < n; i++) {
    out[2 * i] = polygon[2 * (n - 1 - i)]!;
    out[2 * i + 1] = -polygon[2 * (n - 1 - i) + 1]!;
  }
  return out;
}
