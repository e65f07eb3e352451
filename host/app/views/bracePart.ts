import type { InstrumentSketch } from "#engine/pipeline";
import { carriersOf, type PlateFinder } from "./carriers.ts";
import type { BoxHeights, SolidPart } from "./solidParts.ts";

type Brace = InstrumentSketch["top"]["braces"][number];

/** Distance of the stations along a brace, m. */
const spacing = 0.012;

/** Ends are drawn this much short of the plate's edge, m: there the side stands. */
const withinSides = 0.006;

/** A brace as what lies on the plate: a bar of its height profile on the plate's inside, square in section. */
export function bracePart(brace: Brace, finder: PlateFinder, box: BoxHeights): readonly SolidPart[] {
  const isTop = brace.plate === "top";
  const inward = isTop ? -1 : 1;
  const plate = (x: number, y: number) =>
    isTop ? box.top(x, y) - box.topThickness / 2 : box.back(x, y) + box.backThickness / 2;
  return brace.pieces.map(({ path, start, end }) => {
    const length = end - start;
    const steps = Math.max(2, Math.ceil(length / spacing));
    const span = Math.hypot(path[2]! - path[0]!, path[3]! - path[1]!) || 1;
    const short = Math.min(0.25, withinSides / span);
    const between = (k: 0 | 1, share: number) => path[k]! + share * (path[k + 2]! - path[k]!);
    const [ax, bx] = [between(0, short), between(0, 1 - short)];
    const [ay, by] = [box.turn * between(1, short), box.turn * between(1, 1 - short)];
    const half = brace.width / 2 / (Math.hypot(bx - ax, by - ay) || 1);
    const [nx, ny] = [-(by - ay) * half, (bx - ax) * half];
    const flat: number[] = [];
    const positions: number[] = [];
    for (let i = 0; i <= steps; i++) {
      const share = i / steps;
      const [x, y] = [ax + share * (bx - ax), ay + share * (by - ay)];
      const height = heightAt(brace.heights, start + share * length);
      // corners of the section: on the plate and on the crest, on both sides
      for (const [side, up] of [
        [-1, 0],
        [1, 0],
        [1, 1],
        [-1, 1],
      ] as const) {
        const [px, py] = [x + side * nx, y + side * ny];
        flat.push(px, py);
        positions.push(px, py, plate(px, py) + inward * up * height);
      }
    }
    const triangles: number[] = [];
    const lines: number[] = [];
    for (let i = 0; i < steps; i++)
      for (let k = 0; k < 4; k++) {
        const [a, b] = [4 * i + k, 4 * i + ((k + 1) % 4)];
        triangles.push(a, b, a + 4, b, b + 4, a + 4);
        lines.push(a, a + 4);
      }
    for (const end of [0, 4 * steps]) {
      triangles.push(end, end + 1, end + 2, end, end + 2, end + 3);
      lines.push(end, end + 3, end + 1, end + 2, end + 2, end + 3);
    }
    return {
      kind: isTop ? ("top brace" as const) : ("back brace" as const),
      positions: Float32Array.from(positions),
      triangles: Uint32Array.from(triangles),
      lines: Uint32Array.from(lines),
      top: isTop ? carriersOf(finder, flat) : null,
      back: isTop ? null : carriersOf(finder, flat),
    };
  });
}

/** Height of a profile s0, h0, s1, h1, ... at s, straight between its points. */
export function heightAt(profile: Float64Array, s: number): number {
  const last = profile.length - 2;
  if (last < 0) return 0;
  if (s <= profile[0]!) return profile[1]!;
  for (let i = 2; i <= last; i += 2)
    if (s <= profile[i]!) {
      const share = (s - profile[i - 2]!) / (profile[i]! - profile[i - 2]! || 1);
      return profile[i - 1]! + share * (profile[i + 1]! - profile[i - 1]!);
    }
  return profile[last + 1]!;
}
