import { readFileSync } from "node:fs";
import type { BodyShellSpec, PlyMaterial } from "#engine/shells";
import { bare, rectangle } from "./testPlates.ts";

interface CaseWood {
  readonly density: number;
  readonly EL: number;
  readonly ER: number;
  readonly nuLR: number;
  readonly GLR: number;
  readonly GLT: number;
  readonly GRT: number;
}

/** A box of proofs/reference/body-cases-own: outer sizes, walls, linings, a rectangular hole, an end block. */
export interface BoxCase {
  readonly box: {
    readonly outer: readonly [number, number, number];
    readonly top: { readonly thickness: number; readonly wood: CaseWood };
    readonly back: { readonly thickness: number; readonly wood: CaseWood };
    readonly side: { readonly thickness: number; readonly wood: CaseWood };
    readonly lining: { readonly width: number; readonly height: number; readonly wood: CaseWood } | null;
    readonly hole: readonly [x0: number, x1: number, y0: number, y1: number];
    readonly block: {
      readonly x: readonly [number, number];
      readonly y: readonly [number, number];
      readonly wood: CaseWood;
    } | null;
  };
  readonly reference: {
    readonly frequencies_hz: readonly number[];
    readonly coarse_hz: readonly number[];
    readonly mass_kg: number;
  };
}

export function readBoxCase(name: string): BoxCase {
  return JSON.parse(
    readFileSync(new URL(`../reference/body-cases-own/${name}.json`, import.meta.url), "utf8"),
  );
}

/** The case as a body: slips multiply lining height, side thickness and top thickness. */
export function boxSpec({ box }: BoxCase, slip: Readonly<Record<string, number>>): BodyShellSpec {
  const [length, width, height] = box.outer;
  const outline = rectangle(length, width);
  const ply = (w: CaseWood): PlyMaterial => ({ ...w, loss: { L: 0, R: 0, LR: 0, transverse: 0 } });
  const free = { kind: "free" } as const;
  const topThickness = box.top.thickness * (slip["top"] ?? 1);
  const [x0, x1, y0, y1] = box.hole;
  const depth = height - box.top.thickness - box.back.thickness;
  const lining = box.lining && {
    width: box.lining.width,
    height: box.lining.height * (slip["lining"] ?? 1),
    material: ply(box.lining.wood),
    alongShare: 1,
  };
  const { block } = box;
  return {
    top: {
      ...bare(outline, ply(box.top.wood), topThickness, free),
      holes: [Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1)],
    },
    back: bare(outline, ply(box.back.wood), box.back.thickness, free),
    heights: { depthAtTail: depth, depthAtNeck: depth, length },
    sides: {
      outline,
      plies: [
        {
          material: ply(box.side.wood),
          thickness: box.side.thickness * (slip["side"] ?? 1),
          grainAngle: 0,
        },
      ],
      film: null,
      topLining: lining,
      backLining: lining,
      open: [],
    },
    blocks: block
      ? [
          {
            name: "end block",
            centre: [
              (block.x[0] + block.x[1]) / 2,
              (block.y[0] + block.y[1]) / 2,
              -(box.top.thickness + depth) / 2,
            ],
            size: [block.x[1] - block.x[0], block.y[1] - block.y[0], depth],
            mass: block.wood.density * (block.x[1] - block.x[0]) * (block.y[1] - block.y[0]) * depth,
          },
        ]
      : [],
    neck: null,
    rods: [],
    masses: [],
    springs: [],
    support: "free",
  };
}
