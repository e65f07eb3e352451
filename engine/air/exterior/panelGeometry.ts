import type { ExteriorSurface } from "./exterior.ts";

/** What the integrals need of a surface of flat triangles. */
export interface PanelGeometry {
  readonly panels: number;
  readonly nodes: number;
  /** 3 nodes by panel. */
  readonly corner: Uint32Array;
  /** x,y,z by node, m. */
  readonly place: Float64Array;
  /** x,y,z of the outward unit normal by panel. */
  readonly normal: Float64Array;
  /** m2 by panel. */
  readonly area: Float64Array;
  /** x,y,z of the centroid by panel, m. */
  readonly centre: Float64Array;
  /** Longest edge by panel, m. */
  readonly size: Float64Array;
  /** Rotated gradients n x grad(hat) of the three hats by panel, 9 by panel, 1/m. */
  readonly curl: Float64Array;
}

/** Normals, areas and hat functions' gradients of all panels. */
export function panelGeometry(surface: ExteriorSurface): PanelGeometry {
  const { nodes: place, triangles: corner } = surface;
  const panels = corner.length / 3;
  const normal = new Float64Array(3 * panels);
  const area = new Float64Array(panels);
  const centre = new Float64Array(3 * panels);
  const size = new Float64Array(panels);
  const curl = new Float64Array(9 * panels);
  for (let t = 0; t < panels; t++) {
    const at = (m: number, d: number): number => place[3 * corner[3 * t + m] + d];
    const edge = (m: number, d: number): number => at((m + 2) % 3, d) - at((m + 1) % 3, d); // opposite corner m
    const n = [0, 1, 2].map(
      (d) => edge(2, (d + 1) % 3) * -edge(1, (d + 2) % 3) + edge(2, (d + 2) % 3) * edge(1, (d + 1) % 3),
    );
    const twice = Math.hypot(n[0], n[1], n[2]);
    area[t] = twice / 2;
    for (let d = 0; d < 3; d++) {
      normal[3 * t + d] = n[d] / twice;
      centre[3 * t + d] = (at(0, d) + at(1, d) + at(2, d)) / 3;
    }
    for (let m = 0; m < 3; m++) {
      size[t] = Math.max(size[t], Math.hypot(edge(m, 0), edge(m, 1), edge(m, 2)));
      for (let d = 0; d < 3; d++) curl[9 * t + 3 * m + d] = -edge(m, d) / twice;
    }
  }
  return { panels, nodes: place.length / 3, corner, place, normal, area, centre, size, curl };
}
