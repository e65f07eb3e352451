import { beamElement, type FrameSection } from "./beamElement.ts";
import type { BodyLayout, BodyPiece } from "./bodyModel.ts";
import type { BodyShellSpec, NeckSpec, NeckStation } from "./bodySpec.ts";
import { stationValue } from "./frameLine.ts";
import { massCarriers } from "./massCarriers.ts";
import { finishedPiece, motionsOf, pieceMatrices } from "./pieceMatrices.ts";
import { rigidMass } from "./rigidMass.ts";

/** Neck, the board's clear end, head and the point masses on them; null without a neck. */
export function neckPiece(spec: BodyShellSpec, layout: BodyLayout): BodyPiece | null {
  const { neck } = spec;
  if (neck === null) return null;
  const nodes = [...layout.neckNode, ...layout.tongueNode];
  const local = new Map(nodes.map((node, k) => [node, k]));
  // a mass near the neck's root may hang on the block itself
  const carried = massCarriers(spec, layout).filter(({ on }) => on === "neck");
  for (const { node } of carried) if (!local.has(node)) local.set(node, nodes.push(node) - 1);
  const lines = [
    { chain: layout.neckNode, stations: neck.stations },
    { chain: layout.tongueNode, stations: neck.tongue?.stations ?? [] },
  ];
  const name = (node: number): number => local.get(node) as number;
  const pieces = lines.flatMap(({ chain, stations }) =>
    Array.from({ length: Math.max(0, chain.length - 1) }, (_, k) => ({
      from: chain[k],
      to: chain[k + 1],
      section: neckSection(neck, stations, (k + 0.5) / (chain.length - 1)),
      dofs: motionsOf([name(chain[k]), name(chain[k + 1])]),
    })),
  );
  const end = layout.neckNode[layout.neckNode.length - 1];
  const head = motionsOf([name(end)]);
  const points = carried.map(({ node }) => motionsOf([name(node)]));
  const made = pieceMatrices(
    nodes.length,
    0,
    new Uint32Array(0),
    pieces.map((p) => p.dofs),
  );
  const at = (node: number): Float64Array => layout.places.subarray(3 * node, 3 * node + 3);
  for (const p of pieces) {
    const e = beamElement(at(p.from), at(p.to), p.section);
    made.add(p.dofs, e.stiffness, e.loss, e.mass);
  }
  const [x, y, z] = neck.headCentre;
  const arm = [x - at(end)[0], y - at(end)[1], z - at(end)[2]] as const;
  made.add(head, null, null, rigidMass(neck.headMass, arm, neck.headSize ?? [0, 0, 0]));
  carried.forEach(({ mass, arm: from }, k) => {
    made.add(points[k], null, null, rigidMass(mass, from, [0, 0, 0]));
  });
  return finishedPiece("neck", Uint32Array.from(nodes), made, new Float64Array(6 * nodes.length), 0);
}

function neckSection(neck: NeckSpec, stations: readonly NeckStation[], s: number): FrameSection {
  const value = (figure: (q: NeckStation) => number): number => stationValue(stations, figure, s);
  return {
    EA: value((q) => q.EA),
    EIup: value((q) => q.EIz),
    EIacross: value((q) => q.EIy),
    GJ: value((q) => q.GJ),
    GA: value((q) => q.GA ?? 0),
    massPerLength: value((q) => q.massPerLength),
    polar: value((q) => q.polar ?? 0),
    lossE: neck.lossE,
    lossG: neck.lossG,
  };
}
