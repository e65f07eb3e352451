import { done, failed, type Outcome } from "#engine/numerics";
import type { Panel, PlyMaterial } from "../panel.ts";
import { bodyLayout } from "./bodyLayout.ts";
import type { BodyLayout, BodyMesh, BodyPiece, BodySystem } from "./bodyModel.ts";
import type { BodyShellSpec } from "./bodySpec.ts";
import { joinPieces, joinPlan } from "./joinPieces.ts";
import { looseParts } from "./looseParts.ts";
import { neckPiece } from "./neckPiece.ts";
import { platePiece } from "./platePiece.ts";
import { springTerms } from "./pointRows.ts";
import { rimPiece } from "./rimPiece.ts";

/**
 * The whole body's matrices. Fails as `bodyLayout` and `pointRows` do and with 'loose-part' and 'bad-material', both naming the part.
 */
export function bodySystem(spec: BodyShellSpec, mesh: BodyMesh): Outcome<BodySystem> {
  const plates: BodyPiece[] = [];
  if (mesh.top !== null && mesh.topPanel !== null)
    plates.push(platePiece(spec, "top", { panel: mesh.topPanel, mesh: mesh.top }));
  if (mesh.back !== null && mesh.backPanel !== null)
    plates.push(platePiece(spec, "back", { panel: mesh.backPanel, mesh: mesh.back }));
  return joinedSystem(spec, mesh, plates);
}

/** The whole body from plates assembled apart (`platePiece`, in two workers say). Fails as `bodySystem` does. */
export function joinedSystem(
  spec: BodyShellSpec,
  mesh: BodyMesh,
  plates: readonly BodyPiece[],
): Outcome<BodySystem> {
  const fault = materialFault(spec);
  if (fault !== null) return failed("bad-material", fault);
  const laid = bodyLayout(spec, mesh);
  if (!laid.ok) return laid;
  const layout = laid.value;
  const loose = looseParts(spec, mesh, layout);
  if (loose.length > 0) {
    return failed("loose-part", `nothing joins ${loose.join(", ")} to the rest of the body`);
  }
  const neck = neckPiece(spec, layout);
  const pieces = [...plates, rimPiece(spec, mesh, layout), ...(neck === null ? [] : [neck])].filter(
    (piece) => piece.mass.n > 0,
  );
  const pieceMotions = pieces.map((piece) => pieceMotion(piece, layout));
  const plan = joinPlan(
    layout,
    pieces.map((piece, k) => ({ pattern: piece.stiffness, motion: pieceMotions[k] })),
  );
  const [stiffness, lossStiffness, mass] = joinPieces(
    plan,
    pieces.map((piece) => [piece.stiffness.values, piece.lossStiffness.values, piece.mass.values]),
  );
  const springs = springTerms({ spec, mesh, layout });
  if (!springs.ok) return springs;
  const rigid = pieces.map((piece, k) => rigidMassOf(piece, pieceMotions[k], layout));
  const partMass = new Float64Array(4);
  pieces.forEach((piece, k) => {
    const at = { top: 0, back: 1, rim: 2, neck: 3 }[piece.part];
    partMass[at] += rigid[k][14] - piece.liningMass;
    partMass[2] += piece.liningMass;
  });
  const rigidMass = new Float64Array(36);
  for (const r of rigid) for (let k = 0; k < 36; k++) rigidMass[k] += r[k];
  const flow = new Float64Array(6 * layout.shellNodes);
  pieces.forEach((piece, p) => {
    piece.flow.forEach((v, k) => {
      if (pieceMotions[p][k] < flow.length) flow[pieceMotions[p][k]] += v;
    });
  });
  return done({
    spec,
    mesh,
    layout,
    n: layout.n,
    group: layout.group,
    stiffness,
    mass,
    lossStiffness,
    pieces,
    pieceMotions,
    plan,
    springs: springs.value,
    totalMass: rigidMass[14],
    partMass,
    rigidMass,
    flow,
  });
}

/** Body motion of each motion of a piece. */
function pieceMotion(piece: BodyPiece, layout: BodyLayout): Uint32Array {
  if (piece.part === "top") return layout.topMotion;
  if (piece.part === "back") return layout.backMotion;
  const nodes = piece.nodes ?? new Uint32Array(0);
  return Uint32Array.from({ length: 6 * nodes.length }, (_, k) => 6 * nodes[Math.floor(k / 6)] + (k % 6));
}

/** Unit rigid motions about the origin on the given motions, 6 columns; a rib's turn is zero. */
export function rigidMotions(motion: Uint32Array, places: Float64Array): Float64Array {
  const out = new Float64Array(6 * motion.length);
  const nodes = places.length / 3;
  for (let k = 0; k < motion.length; k++) {
    const node = Math.floor(motion[k] / 6);
    if (node >= nodes) continue;
    const q = motion[k] % 6;
    out[q * motion.length + k] = 1;
    if (q >= 3) continue;
    const a = (q + 1) % 3;
    const b = (q + 2) % 3;
    // (Theta x r)_q = Theta_a r_b - Theta_b r_a
    out[(3 + a) * motion.length + k] = places[3 * node + b];
    out[(3 + b) * motion.length + k] = -places[3 * node + a];
  }
  return out;
}

/** 6 x 6: R' M R of one piece. */
function rigidMassOf(piece: BodyPiece, motion: Uint32Array, layout: BodyLayout): Float64Array {
  const columns = rigidMotions(motion, layout.places);
  const n = motion.length;
  const r = new Float64Array(6 * n); // six side by side
  for (let q = 0; q < 6; q++) for (let k = 0; k < n; k++) r[6 * k + q] = columns[q * n + k];
  const { colStart, rowIndex, values } = piece.mass;
  const half = new Float64Array(36);
  const s = new Float64Array(6);
  for (let j = 0; j < n; j++) {
    let [s0, s1, s2, s3, s4, s5] = [0, 0, 0, 0, 0, 0];
    for (let p = colStart[j]; p < colStart[j + 1]; p++) {
      const v = rowIndex[p] === j ? values[p] / 2 : values[p];
      if (v === 0) continue;
      const i = 6 * rowIndex[p];
      s0 += v * r[i];
      s1 += v * r[i + 1];
      s2 += v * r[i + 2];
      s3 += v * r[i + 3];
      s4 += v * r[i + 4];
      s5 += v * r[i + 5];
    }
    s[0] = s0;
    s[1] = s1;
    s[2] = s2;
    s[3] = s3;
    s[4] = s4;
    s[5] = s5;
    for (let q = 0; q < 6; q++) for (let t = 0; t < 6; t++) half[6 * q + t] += s[q] * r[6 * j + t];
  }
  return half.map((v, k) => v + half[6 * (k % 6) + Math.floor(k / 6)]);
}

/** A part without weight, stiffness or thickness, in words. */
function materialFault(spec: BodyShellSpec): string | null {
  const some = (v: number): boolean => v > 0 && Number.isFinite(v);
  const sheet = (name: string, m: PlyMaterial): string | null => {
    if (!some(m.density)) return `${name} has a density of ${m.density} kg/m3`;
    const soft = (["EL", "ER", "GLR", "GLT", "GRT"] as const).find((k) => !some(m[k]));
    return soft === undefined ? null : `${name} has no stiffness: ${soft} is ${m[soft]} Pa`;
  };
  const plate = (name: string, p: Panel | null): string | null => {
    if (p === null) return null;
    const thin = (typeof p.thickness === "number" ? [p.thickness] : p.thickness.spots.map((s) => s[2])).find(
      (t) => !some(t),
    );
    if (thin !== undefined) return `the ${name} is ${thin} m thick`;
    for (const [k, rib] of p.ribs.entries()) {
      const { density, EL, G } = rib.material;
      if (!some(density)) return `brace ${k + 1} of the ${name} has a density of ${density} kg/m3`;
      if (!some(EL) || !some(G)) return `brace ${k + 1} of the ${name} has no stiffness`;
    }
    return (
      sheet(`the ${name}'s wood`, p.wood) ??
      p.patches.map((q, k) => sheet(`patch ${k + 1} of the ${name}`, q.wood)).find((f) => f !== null) ??
      null
    );
  };
  const side = (): string | null => {
    if (spec.sides === null) return null;
    const { plies, topLining, backLining } = spec.sides;
    if (plies.length === 0 || plies.some((ply) => !some(ply.thickness))) return "the sides have no thickness";
    const woods = [
      ...plies.map((ply) => ["the sides' wood", ply.material] as const),
      ...[topLining, backLining].flatMap((l) => (l === null ? [] : [["a lining", l.material] as const])),
    ];
    return woods.map(([name, m]) => sheet(name, m)).find((f) => f !== null) ?? null;
  };
  const block = spec.blocks.find((b) => !(b.mass >= 0));
  const rod = spec.rods.find((r) => !some(r.density) || !some(r.stiffness) || !(r.diameter > r.bore));
  return (
    plate("top", spec.top) ??
    plate("back", spec.back) ??
    side() ??
    (block ? `${block.name} has a mass of ${block.mass} kg` : null) ??
    (rod ? `${rod.name} has no wall, weight or stiffness` : null)
  );
}
