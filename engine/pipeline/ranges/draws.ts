import { seededRandom } from "#engine/numerics";

/**
 * Standard normal draws for one uncertain value, told apart by its path alone: two designs that both have a
 * "top.wood.stiffnessAlong" draw the same numbers for it, whatever else they have. Pairs z, -z, so that the mean is exact;
 * cut off at 2.5. Source: Box and Muller (from memory).
 */
export function draws(path: string, seed: number, count: number): Float64Array {
  const random = seededRandom(hashed(path) ^ seed);
  const out = new Float64Array(count);
  for (let s = 0; s < count; s += 2) {
    let z = 0;
    do {
      const radius = Math.sqrt(-2 * Math.log(1 - random()));
      z = radius * Math.cos(2 * Math.PI * random());
    } while (Math.abs(z) > 2.5);
    out[s] = z;
    if (s + 1 < count) out[s + 1] = -z;
  }
  return out;
}

/** FNV-1a of a text, 32 bits. */
function hashed(text: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  return h | 0;
}
