import { done, failed, type Outcome, type Warning } from "#engine/numerics";
import type { BodyMesh, BodySurface } from "./bodyModel.ts";
import type { BodyShellSpec } from "./bodySpec.ts";
import { plateHeight, plateMesh, type SeatedPlate } from "./plateMesh.ts";
import { evenRing, plateRing, type SideStrip, sideStrip, specCurve } from "./sideStrip.ts";

/** Edge lengths wanted, m. */
export interface BodyMeshSize {
  readonly top: number;
  readonly back: number;
  readonly side: number;
}

/**
 * One mesh of top, back and sides: the plates' own meshes, joined along the side's mid-surface to the rows of the side.
 * Where the hole meets the body's edge the side stands free at full height. Fails as the plates' mesher does and with
 * 'plate-outside', 'plate-off-sides', 'too-shallow', 'empty-body'.
 */
export function bodyMesh(spec: BodyShellSpec, size: BodyMeshSize): Outcome<BodyMesh> {
  const top = plateMesh(spec, "top", size.top);
  if (!top.ok) return top;
  const back = plateMesh(spec, "back", size.back);
  if (!back.ok) return back;
  const joined = joinMeshes(spec, top.value, back.value, size.side);
  return joined.ok ? done(joined.value, [...top.warnings, ...back.warnings, ...joined.warnings]) : joined;
}

/** The body's mesh from plates meshed apart (in two workers, say). Fails as `bodyMesh` does. */
export function joinMeshes(
  spec: BodyShellSpec,
  top: SeatedPlate | null,
  back: SeatedPlate | null,
  sideSize: number,
): Outcome<BodyMesh> {
  const warnings: Warning[] = [];
  const nodes: number[] = [];
  const triangles: number[] = [];
  const part: number[] = [];
  const topCount = top === null ? 0 : top.mesh.nodes.length / 3;
  const backCount = back === null ? 0 : back.mesh.nodes.length / 3;
  if (top !== null) {
    nodes.push(...top.mesh.nodes);
    triangles.push(...top.mesh.triangles);
    part.push(...new Uint8Array(top.mesh.triangles.length / 3));
  }
  if (back !== null) {
    const b = back.mesh;
    for (let k = 0; k < backCount; k++) nodes.push(b.nodes[3 * k], b.nodes[3 * k + 1], -b.nodes[3 * k + 2]);
    for (let e = 0; e < b.triangles.length; e += 3) {
      // seen from the back's outside the plan runs the other way round
      triangles.push(topCount + b.triangles[e], topCount + b.triangles[e + 2], topCount + b.triangles[e + 1]);
      part.push(1);
    }
  }
  let strip: SideStrip = { rings: [], nodes: [], triangles: [] };
  const curve = specCurve(spec);
  if (curve !== null) {
    const topRing =
      top === null ? done(evenRing(curve, sideSize)) : plateRing(curve, top.mesh, "top", sideSize);
    if (!topRing.ok) return topRing;
    const backRing =
      back === null
        ? done(
            top === null
              ? evenRing(curve, sideSize)
              : { ...topRing.value, plateNode: unshared(topRing.value.plateNode) },
          )
        : plateRing(curve, back.mesh, "back", sideSize);
    if (!backRing.ok) return backRing;
    const made = sideStrip(
      spec,
      curve,
      [topRing.value, backRing.value],
      [(k) => k, (k) => topCount + k],
      [plateHeight(spec, "top"), plateHeight(spec, "back")],
      topCount + backCount,
      sideSize,
    );
    if (!made.ok) return made;
    strip = made.value;
    nodes.push(...strip.nodes);
    triangles.push(...strip.triangles);
    for (let e = 0; e < strip.triangles.length / 3; e++) part.push(2);
  }
  if (triangles.length === 0) return failed("empty-body", "the body has neither top, back nor sides");
  const surface: BodySurface = {
    nodes: Float64Array.from(nodes),
    triangles: Uint32Array.from(triangles),
    part: Uint8Array.from(part),
  };
  if (top !== null && back !== null) {
    const crossed = platesCross(spec, top);
    if (crossed !== null) return failed("too-shallow", crossed);
  }
  return done(
    {
      surface,
      top: top?.mesh ?? null,
      back: back?.mesh ?? null,
      topPanel: top?.panel ?? null,
      backPanel: back?.panel ?? null,
      topNode: Uint32Array.from({ length: topCount }, (_, k) => k),
      backNode: Uint32Array.from({ length: backCount }, (_, k) => topCount + k),
      sideRings: strip.rings,
    },
    warnings,
  );
}

function unshared(plateNode: Int32Array): Int32Array {
  return new Int32Array(plateNode.length).fill(-1);
}

/** Where the back lies above the top's mid-surface, in words; null if nowhere. */
function platesCross(spec: BodyShellSpec, top: SeatedPlate): string | null {
  const back = plateHeight(spec, "back");
  const p = top.mesh.nodes;
  for (let k = 0; k < p.length; k += 3) {
    const depth = p[k + 2] + back(p[k], p[k + 1]);
    if (!(depth > 0)) {
      return `the back comes through the top at (${p[k].toFixed(3)}, ${p[k + 1].toFixed(3)}) m`;
    }
  }
  return null;
}
