import type { Laminate } from "../laminate.ts";
import { type BendingStrains, bendingStrainMemory, bendingStrains } from "./bendingStrains.ts";
import { type ElementForm, elementForm, elementFormMemory } from "./elementForm.ts";
import { facetAxes } from "./facetAxes.ts";
import { gatherForm } from "./gatherForm.ts";
import { type MembraneStrains, membraneStrainMemory, membraneStrains } from "./membraneStrains.ts";
import { type InertiaScratch, inertiaMemory, triangleInertia } from "./triangleInertia.ts";
import { turnBlocks, turnRow } from "./turnBlocks.ts";

/**
 * Flat shell triangle: optimal membrane with drilling rotations (membraneStrains.ts) and discrete-shear bending
 * (bendingStrains.ts), coupled through the laminate at the three mid-side points.
 *
 * Motions by corner: ux, uy, uz, rx, ry, rz in the frame of the corners. The element's own axes are the facet's normal
 * and the projection of a given direction on it: with the plate frame's x, grain angles in plan hold on the dome.
 */
export interface ShellTriangle {
  /** 18 x 18 row by row, real stiffness. */ readonly stiffness: Float64Array;
  /** 18 x 18: imaginary stiffness (strain energy of the same strains in the loss laminate). */ readonly loss: Float64Array;
  /** 18 x 18 consistent mass; w cubic, the rest linear, no mass on the drilling rotation. */ readonly mass: Float64Array;
  /** 18: volume swept along the normal per unit motion. */ readonly flow: Float64Array;
  /** Facet area and normal. */ readonly facet: Float64Array;
  readonly scratch: TriangleScratch;
}

export interface TriangleScratch {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Rows: the element's axes x, y, normal. */ readonly frame: Float64Array;
  readonly membrane: MembraneStrains;
  readonly bending: BendingStrains;
  readonly form: ElementForm;
  readonly forces: Float64Array;
  readonly inertia: InertiaScratch;
}

export function triangleScratch(): TriangleScratch {
  return {
    x: new Float64Array(3),
    y: new Float64Array(3),
    frame: new Float64Array(9),
    membrane: membraneStrainMemory(),
    bending: bendingStrainMemory(),
    form: elementFormMemory(),
    forces: new Float64Array(108),
    inertia: inertiaMemory(),
  };
}

/** Memory for one element, filled anew by `shellTriangle` for each facet. */
export function emptyTriangle(): ShellTriangle {
  return {
    stiffness: new Float64Array(324),
    loss: new Float64Array(324),
    mass: new Float64Array(324),
    flow: new Float64Array(18),
    facet: new Float64Array(4),
    scratch: triangleScratch(),
  };
}

const alongX = Float64Array.of(1, 0, 0);

/**
 * Fills `out` (in place) for the facet with corner coordinates `p` (x, y, z of three corners) and its laminate, whose
 * angles count from the projection of `along` (a unit vector, not along the normal).
 */
export function shellTriangle(
  p: Float64Array,
  laminate: Laminate,
  out: ShellTriangle,
  along: Float64Array = alongX,
): void {
  const s = out.scratch;
  const area = triangleStrains(p, laminate, s, along);
  out.facet[0] = area;
  for (let k = 0; k < 3; k++) out.facet[1 + k] = s.frame[6 + k];
  const { membrane: m, bending: b, form } = s;
  gatherForm(form, m.byMotion, b.byMotion, s.forces, out.stiffness);
  elementForm(laminate.loss, area, m, b, false, form);
  gatherForm(form, m.byMotion, b.byMotion, s.forces, out.loss);
  triangleInertia(s.x, s.y, area, b.bulge, laminate.inertia, s.inertia, out.mass, out.flow);
  turnBlocks(out.stiffness, s.frame);
  turnBlocks(out.loss, s.frame);
  turnBlocks(out.mass, s.frame);
  turnRow(out.flow, s.frame);
}

/** Fills the scratch with the facet's axes, its strains by motion and the laminate's stiffness in them; returns its area. */
export function triangleStrains(
  p: Float64Array,
  laminate: Laminate,
  s: TriangleScratch,
  along: Float64Array = alongX,
): number {
  const c = laminate.stiffness;
  const area = facetAxes(p, along, s.frame, s.x, s.y);
  membraneStrains(s.x, s.y, area, (c[1] * c[1]) / (c[0] * c[9]), s.membrane);
  bendingStrains(s.x, s.y, area, s.bending);
  elementForm(c, area, s.membrane, s.bending, true, s.form);
  return area;
}
