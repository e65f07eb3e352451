import { symmetricMultiply } from "#engine/numerics";
import type { BodySystem } from "./bodyModel.ts";

/** Geometric stiffness of one rigid body's turning: 3 x 3 over rx ry rz of its node. */
interface BlockTurn {
  readonly node: number;
  readonly stiffness: Float64Array;
}

/**
 * What hangs rigidly on a node at the arm r moves by Theta x r + 1/2 Theta x (Theta x r); the elements' forces F on it do
 * second-order work F.(1/2 Theta x (Theta x r)), that is 1/2 Theta' G Theta with G = (F r' + r F')/2 - (F.r) 1, summed
 * over all that hangs there. `motion`: all motions of the loaded body.
 */
export function geometricBlocks(system: BodySystem, motion: Float64Array): BlockTurn[] {
  const { layout, pieces, pieceMotions } = system;
  const force = new Float64Array(layout.motions);
  pieces.forEach((piece, p) => {
    const list = pieceMotions[p];
    const own = symmetricMultiply(
      piece.stiffness,
      Float64Array.from(list, (k) => motion[k]),
    );
    list.forEach((k, i) => {
      force[k] += own[i];
    });
  });
  const turns = new Map<number, Float64Array>();
  const { places } = layout;
  for (let node = 0; node < layout.hangsOn.length; node++) {
    const on = layout.hangsOn[node];
    if (on < 0) continue;
    const g = turns.get(on) ?? new Float64Array(9);
    turns.set(on, g);
    let work = 0;
    for (let i = 0; i < 3; i++) {
      const ri = places[3 * node + i] - places[3 * on + i];
      work += force[6 * node + i] * ri;
      for (let j = 0; j < 3; j++) {
        const rj = places[3 * node + j] - places[3 * on + j];
        g[3 * i + j] += (force[6 * node + i] * rj + ri * force[6 * node + j]) / 2;
      }
    }
    for (let i = 0; i < 3; i++) g[4 * i] -= work;
  }
  return [...turns].map(([node, stiffness]) => ({ node, stiffness }));
}
