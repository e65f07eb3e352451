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
    const o = 3 * t;
    const a = 3 * corner[o];
    const b = 3 * corner[o + 1];
    const c = 3 * corner[o + 2];
    const ux = place[b] - place[a];
    const uy = place[b + 1] - place[a + 1];
    const uz = place[b + 2] - place[a + 2];
    const vx = place[c] - place[a];
    const vy = place[c + 1] - place[a + 1];
    const vz = place[c + 2] - place[a + 2];
    const wx = vx - ux;
    const wy = vy - uy;
    const wz = vz - uz;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    area[t] = twice / 2;
    normal[o] = nx / twice;
    normal[o + 1] = ny / twice;
    normal[o + 2] = nz / twice;
    centre[o] = (place[a] + place[b] + place[c]) / 3;
    centre[o + 1] = (place[a + 1] + place[b + 1] + place[c + 1]) / 3;
    centre[o + 2] = (place[a + 2] + place[b + 2] + place[c + 2]) / 3;
    size[t] = Math.sqrt(
      Math.max(ux * ux + uy * uy + uz * uz, vx * vx + vy * vy + vz * vz, wx * wx + wy * wy + wz * wz),
    );
    // Of each hat minus the edge opposite its corner over twice the area.
    curl[3 * o] = -wx / twice;
    curl[3 * o + 1] = -wy / twice;
    curl[3 * o + 2] = -wz / twice;
    curl[3 * o + 3] = vx / twice;
    curl[3 * o + 4] = vy / twice;
    curl[3 * o + 5] = vz / twice;
    curl[3 * o + 6] = -ux / twice;
    curl[3 * o + 7] = -uy / twice;
    curl[3 * o + 8] = -uz / twice;
  }
  return { panels, nodes: place.length / 3, corner, place, normal, area, centre, size, curl };
}
