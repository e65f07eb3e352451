import { sampleCurve } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { holeParameter, type InstrumentGeometry, type LiveResult } from "#engine/pipeline";
import { inUnit, millimetres } from "#engine/units";
import type { Lever, LeverEffect, LeverFigure } from "./deskTypes.ts";

/** A step of one value that a hand can make at the bench. */
export interface LeverStep {
  readonly path: string;
  readonly words: string;
  readonly factor: number;
  readonly step: string;
}

/** What a plane, a scraper or a file takes off in a careful step, m and kg (common practice, no source). */
const taken = {
  braceHeight: 0.5e-3,
  braceWidth: 1e-3,
  plate: 0.1e-3,
  bridge: 0.5e-3,
  bridgeMass: 2e-3,
  hole: 2e-3,
};

/**
 * Changes of the figures that a maker would just take notice of: in the figure's unit, or as a share of what it was (engineering
 * judgement; a decibel is about the least that an ear hears of a level).
 */
export const leverScales: Readonly<
  Record<LeverFigure, { readonly by: number } | { readonly share: number }>
> = {
  mainAirHz: { share: 0.01 },
  mainTopHz: { share: 0.01 },
  mainBackHz: { share: 0.01 },
  wolfNotes: { by: 1 },
  worstWolf: { share: 0.2 },
  levelSpreadDb: { by: 1 },
  bridgeRotationDeg: { by: 0.1 },
};

/** The steps that a finished design leaves to the hand: wood away from braces, plates and bridge, a wider hole. */
export function leverSteps(build: Build, geometry: InstrumentGeometry): readonly LeverStep[] {
  const less = (path: string, words: string, value: number, by: number): LeverStep[] =>
    value > 2 * by ? [{ path, words, factor: 1 - by / value, step: `${millimetres(by, 1)} mm less` }] : [];
  const plates = (["top", "back"] as const).flatMap((which) => {
    const plate = build[which];
    const seen = new Set<string>();
    const braces = plate.braces.flatMap((brace) => {
      const { documentPath, name, heights, width } = brace;
      if (seen.has(documentPath)) return [];
      seen.add(documentPath);
      const highest = Math.max(...heights.map(([, h]) => h));
      return [
        ...less(`${documentPath}.height`, `height of ${name}`, highest, taken.braceHeight),
        ...less(`${documentPath}.width`, `width of ${name}`, width, taken.braceWidth),
      ];
    });
    return [
      ...less(`${which}.thickness`, `thickness of the ${which}`, plate.meanThickness, taken.plate),
      ...braces,
    ];
  });
  const { bridge } = build;
  const xs = sampleCurve(geometry.plan.hole, 5e-3).filter((_, k) => k % 2 === 0);
  const length = Math.max(...xs) - Math.min(...xs);
  const grams = inUnit(taken.bridgeMass, "g").toFixed(0);
  return [
    ...plates,
    ...less("bridge.thickness", "thickness of the bridge", bridge.thickness, taken.bridge),
    ...(bridge.mass > 2 * taken.bridgeMass
      ? [
          {
            path: "bridge.mass",
            words: "mass of the bridge",
            factor: 1 - taken.bridgeMass / bridge.mass,
            step: `${grams} g less`,
          },
        ]
      : []),
    ...(length > 0
      ? [
          {
            path: holeParameter.id,
            words: "size of the sound hole",
            factor: 1 + taken.hole / length,
            step: `${millimetres(taken.hole, 0)} mm longer, and wider in proportion`,
          },
        ]
      : []),
  ];
}

/** What the step does, from the reduced model's answers without it and with it. */
export function leverOf(step: LeverStep, before: LiveResult, after: LiveResult): Lever {
  const [from, to] = [leverFigures(before), leverFigures(after)];
  const effects = (Object.keys(leverScales) as LeverFigure[]).map((figure): LeverEffect => {
    const [a, b] = [from[figure], to[figure]];
    return { figure, before: a, after: b, strength: strengthOf(figure, a, b) };
  });
  return {
    ...step,
    effects: effects.sort((a, b) => b.strength - a.strength),
    error: Math.max(0, ...after.errorEstimate.subarray(0, 30)),
    needsFullSolve: after.needsFullSolve,
  };
}

function strengthOf(figure: LeverFigure, before: number | null, after: number | null): number {
  if (before === null || after === null || before === after) return 0;
  const scale = leverScales[figure];
  return Math.abs(after - before) / ("by" in scale ? scale.by : scale.share * Math.abs(before));
}

function leverFigures({ response, board, load }: LiveResult): Readonly<Record<LeverFigure, number | null>> {
  const named = (name: "main air" | "main top" | "main back"): number | null => {
    const at = response.name.indexOf(name);
    return at < 0 ? null : response.frequency[at]!;
  };
  const wolves = board.noteBoard.flatMap(({ wolfIndex }) => (wolfIndex === null ? [] : [wolfIndex]));
  return {
    mainAirHz: named("main air"),
    mainTopHz: named("main top"),
    mainBackHz: named("main back"),
    wolfNotes: wolves.filter((index) => index >= 1).length,
    worstWolf: wolves.length === 0 ? null : Math.max(...wolves),
    levelSpreadDb: board.evenness.levelSpreadDb,
    bridgeRotationDeg: inUnit(load.bridgeRotation, "deg"),
  };
}
