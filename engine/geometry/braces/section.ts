/** Area and inertia of a brace's section in closed form. */
import type { BraceSection } from "./brace.ts";

/** Section over its glue face: area m2, centroid over the glue face m, second moments of area m4. */
export interface SectionProperties {
  readonly area: number;
  readonly centroid: number;
  /** About the section's own centroid, bending square to the plate. */
  readonly inertia: number;
  /** About the glue face. */
  readonly inertiaAtGlue: number;
}

/**
 * Properties of a section of width b and height h: walls of height w h (rectangle), then over the rest t = (1 - w) h
 *   gable:  area b t/2,   centroid t/3,   I b t^3/36;      arch (parabola):  area 2 b t/3,  centroid 2 t/5,  I 8 b t^3/175
 * each about its own centroid, put together by the parallel-axis rule. Source: closed form, CLOSED-FORM.
 */
export function sectionProperties(section: BraceSection, width: number, height: number): SectionProperties {
  const wall = section.kind === "rectangular" ? height : section.wall * height;
  const rest = height - wall;
  const [areaFactor, centroidFactor, inertiaFactor] =
    section.kind === "triangular" ? [1 / 2, 1 / 3, 1 / 36] : [2 / 3, 2 / 5, 8 / 175];
  const wallArea = width * wall;
  const topArea = areaFactor * width * rest;
  const topCentroid = wall + centroidFactor * rest;
  const area = wallArea + topArea;
  const centroid = area === 0 ? 0 : (wallArea * (wall / 2) + topArea * topCentroid) / area;
  const inertiaAtGlue =
    (width * wall ** 3) / 3 + inertiaFactor * width * rest ** 3 + topArea * topCentroid * topCentroid;
  return { area, centroid, inertia: inertiaAtGlue - area * centroid * centroid, inertiaAtGlue };
}

/**
 * The rectangle, as shares of width and height, with the section's area and its inertia about the glue face; a beam glued
 * to a plate bends nearly about that face. Its centroid lies up to 6 % higher (gable without walls) than the true one.
 */
export function equivalentRectangle(section: BraceSection): {
  readonly width: number;
  readonly height: number;
} {
  const { area, inertiaAtGlue } = sectionProperties(section, 1, 1);
  const height = Math.sqrt((3 * inertiaAtGlue) / area);
  return { width: area / height, height };
}
