import { done, failed, type Outcome, type SparseSymmetric } from "#engine/numerics";
import type { BodyPiece, BodySystem, MotionMap } from "../body/bodyModel.ts";
import type { BodyShellSpec } from "../body/bodySpec.ts";
import { plateMotionMap } from "../body/motionRows.ts";
import { neckPiece } from "../body/neckPiece.ts";
import { plateSlope } from "../body/plateMesh.ts";
import { overhang, seatedLaminates } from "../body/platePiece.ts";
import { seatedPanel } from "../body/plateSeat.ts";
import { rimPiece } from "../body/rimPiece.ts";
import type { Laminate } from "../laminate.ts";
import { mapOf, panelChange } from "./panelChange.ts";
import type { ReduciblePlate, StructureChange } from "./reducedModel.ts";

export type BodyPart = "top" | "back" | "rim" | "neck";

/** Laminates of the unchanged plates' triangles, for many changes of one body. */
export type OwnLaminates = ReadonlyMap<BodyPart, readonly Laminate[]>;

export function ownLaminates(system: BodySystem): OwnLaminates {
  const out = new Map<BodyPart, readonly Laminate[]>();
  for (const which of ["top", "back"] as const) {
    const plate = reduciblePlate(system, which, null);
    if (plate !== null) out.set(which, plate.laminates(plate.panel, plate.mesh));
  }
  return out;
}

/**
 * What changes in the body's matrices when its spec becomes `after`, on the same mesh, looked for in the named parts alone.
 * With a plate's thickness go its own matrices and, if "rim" is named, the sides' scaled mass; that the other plate and the
 * sides move by half of it is left out. `own`: made by `ownLaminates`, or anew where it is absent.
 * Fails with 'other-plan' where the change moves a rib or patch, or takes a part away: that asks for a new mesh.
 */
export function bodyChange(
  system: BodySystem,
  after: BodyShellSpec,
  parts: readonly BodyPart[],
  own?: OwnLaminates,
): Outcome<readonly StructureChange[]> {
  const changes: StructureChange[] = [];
  for (const part of parts) {
    if (part === "top" || part === "back") {
      const plate = reduciblePlate(system, part, own?.get(part) ?? null);
      const seated = seatedPanel(after, part);
      if (!seated.ok) return seated;
      const panel = seated.value;
      if (plate === null || panel === null) return failed("other-plan", `there is no ${part} to change`);
      if (
        panel.ribs.length !== plate.panel.ribs.length ||
        panel.patches.length !== plate.panel.patches.length
      )
        return failed("other-plan", `the ${part} has other ribs or patches after the change`);
      changes.push(panelChange(plate, panel));
      continue;
    }
    const at = system.pieces.findIndex((piece) => piece.part === part);
    const now =
      part === "rim" ? rimPiece(after, system.mesh, system.layout) : neckPiece(after, system.layout);
    if (at < 0 || now === null) return failed("other-plan", `there is no ${part} to change`);
    changes.push(pieceChange(system.pieces[at], now, system.pieceMotions[at], system.layout.map));
  }
  return done(changes);
}

/** A plate of the body as the reduced model takes it; null where there is none. */
export function reduciblePlate(
  system: BodySystem,
  which: "top" | "back",
  laminates: readonly Laminate[] | null,
): ReduciblePlate | null {
  const { spec, mesh, layout } = system;
  const panel = which === "top" ? mesh.topPanel : mesh.backPanel;
  const plate = which === "top" ? mesh.top : mesh.back;
  if (panel === null || plate === null) return null;
  return {
    panel,
    mesh: plate,
    own: laminates,
    motions: plateMotionMap(layout, which),
    slope: plateSlope(spec, which),
    laminates: (p, m) => seatedLaminates(spec, which, p, m).laminates,
    overhang: (p) => overhang(spec, which, p, plate),
  };
}

/** The difference of two pieces of one pattern, over the motions whose entries differ. */
function pieceChange(
  before: BodyPiece,
  after: BodyPiece,
  motion: Uint32Array,
  map: MotionMap,
): StructureChange {
  const all = [
    [after.stiffness, before.stiffness],
    [after.lossStiffness, before.lossStiffness],
    [after.mass, before.mass],
  ] as const;
  const { colStart, rowIndex, n } = before.stiffness;
  const local = new Int32Array(n).fill(-1);
  for (let j = 0; j < n; j++) {
    for (let p = colStart[j]; p < colStart[j + 1]; p++) {
      if (all.some(([a, b]) => a.values[p] !== b.values[p])) local[j] = local[rowIndex[p]] = 0;
    }
  }
  const touched: number[] = [];
  for (let j = 0; j < n; j++) if (local[j] === 0) local[j] = touched.push(j) - 1;
  const part = ([a, b]: readonly [SparseSymmetric, SparseSymmetric]): SparseSymmetric => {
    const start = new Uint32Array(touched.length + 1);
    const rows: number[] = [];
    const values: number[] = [];
    touched.forEach((j, c) => {
      for (let p = colStart[j]; p < colStart[j + 1]; p++) {
        if (local[rowIndex[p]] < 0) continue;
        rows.push(local[rowIndex[p]]);
        values.push(a.values[p] - b.values[p]);
      }
      start[c + 1] = rows.length;
    });
    return {
      n: touched.length,
      colStart: start,
      rowIndex: Uint32Array.from(rows),
      values: Float64Array.from(values),
    };
  };
  const [stiffness, lossStiffness, mass] = all.map(part);
  return {
    motions: mapOf(
      map,
      touched.map((j) => motion[j]),
    ),
    stiffness,
    lossStiffness,
    mass,
  };
}
