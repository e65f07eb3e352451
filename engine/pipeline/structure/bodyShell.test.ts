/** The structure weighs, measures and holds what the document states: example instruments, nothing computed but statics of mass. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  domeHeight,
  equivalentRectangle,
  pointInPolygon,
  polygonArea,
  polygonPerimeter,
} from "#engine/geometry";
import { checkInstrument } from "#engine/instrument";
import { opened, quiet } from "#engine/numerics";
import { joinedSystem } from "#engine/shells";
import { defaultBodySettings } from "../body/bodySettings.ts";
import { stageJobs } from "../body/jobs.ts";
import { madeBody } from "../body/wholeBody.ts";
import { alone } from "../crew.ts";
import { instrumentGeometry } from "../geometry.ts";
import { stringSet } from "../stringSet.ts";
import { bodyShell } from "./bodyShell.ts";
import { cavitySpec } from "./boxAir.ts";
import { buildStates } from "./buildState.ts";
import { massFactors, neckBeam } from "./neckBeam.ts";

function example(name: string, hand = "right") {
  const text = readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
  const checked = checkInstrument(JSON.stringify({ ...JSON.parse(text), hand }));
  if (!checked.ok) throw new Error("the example is at fault");
  const { build, plan } = checked;
  const geometry = opened(instrumentGeometry(build, plan));
  return { build, plan, geometry, strings: opened(stringSet(build)) };
}

/** A mesh that only has to weigh. */
const settings = { ...defaultBodySettings, meshSize: { top: 0.03, back: 0.03, side: 0.04 } };

async function weighed({ build, geometry, strings }: ReturnType<typeof example>) {
  const spec = bodyShell(build, geometry, strings, "strung");
  const made = opened(await madeBody(spec, settings, alone(stageJobs), quiet));
  return opened(joinedSystem(made.spec, made.mesh, made.plates));
}

describe.each(["low-radial", "cross-braced", "small-ladder"])("example %s", (name) => {
  const instrument = example(name);
  const { build, plan, geometry, strings } = instrument;
  const shell = bodyShell(build, geometry, strings, "strung");
  const air = opened(cavitySpec(build, plan, settings.cavity));
  const top = (x: number, y: number) => air.top.at + air.top.perX * x + domeHeight(air.top.dome, x, y);
  const back = (x: number, y: number) => air.back.at + air.back.perX * x - domeHeight(air.back.dome, x, y);

  it("holds the air that the plan says it holds", () => {
    // by columns of 2 mm
    const step = 0.002;
    let gross = 0;
    for (let x = step / 2; x < plan.length; x += step)
      for (let y = -0.25 + step / 2; y < 0.25; y += step)
        if (pointInPolygon(air.outline, x, y)) gross += (top(x, y) - back(x, y)) * step * step;
    expect(Math.abs(gross / plan.grossVolume - 1)).toBeLessThan(0.005);
    const net = gross - air.solidVolume;
    expect(Math.abs(net / plan.netVolume - 1)).toBeLessThan(0.005);
    expect(polygonArea(air.outline)).toBeLessThan(plan.areas.plan);
  });

  it("is as deep at tail and neck as stated", () => {
    expect(top(0, 0) - back(0, 0)).toBeCloseTo(build.body.depthAtTail, 9);
    expect(top(plan.length, 0) - back(plan.length, 0)).toBeCloseTo(build.body.depthAtNeck, 9);
  });

  it("has end blocks that reach from plate to plate", () => {
    const middle = (build.top.meanThickness + build.back.meanThickness) / 2;
    for (const wanted of ["neck block", "tail block"]) {
      const box = shell.blocks.find((b) => b.name === wanted)!;
      const [x, y, z] = box.centre;
      // mid-surface of the top, and of the back a mean thickness below the inner face
      const [upper, lower] = [z + box.size[2] / 2, z - box.size[2] / 2];
      expect(upper).toBeGreaterThanOrEqual(top(x, y) + build.top.meanThickness / 2);
      expect(lower).toBeLessThanOrEqual(back(x, y) - build.back.meanThickness / 2 + 1e-9);
      // and not beyond them by more than a board's thickness
      expect(box.size[2]).toBeLessThan(top(x, y) - back(x, y) + middle + 0.012);
      expect(box.mass).toBe(build.rimParts.find((p) => p.name === wanted)!.mass);
    }
  });

  it("has a neck of the mass and, where shaft and head allow it, the centre of mass that the document states", () => {
    const neck = neckBeam(build, geometry);
    const length = neck.to[0] - neck.from[0];
    const line = (stations: typeof neck.stations, run: number): [number, number] => {
      let [mass, moment] = [0, 0];
      for (let i = 0; i + 1 < stations.length; i++) {
        const [a, b] = [stations[i]!, stations[i + 1]!];
        // by many thin slices
        for (let k = 0.5; k < 200; k++) {
          const t = k / 200;
          const m =
            ((a.massPerLength + (b.massPerLength - a.massPerLength) * t) * (b.s - a.s) * Math.abs(run)) / 200;
          mass += m;
          moment += m * (a.s + (b.s - a.s) * t) * run;
        }
      }
      return [mass, moment];
    };
    const [shaft, shaftMoment] = line(neck.stations, length);
    const headAt = neck.headCentre[0] - neck.from[0];
    // the board over the body, glued or clear, is part of the stated mass
    const over = Math.max(
      0,
      plan.length - Math.min(geometry.board.bassEdge[1]![0], geometry.board.trebleEdge[1]![0]),
    );
    const board = build.neck.boardWood.density * build.neck.widthAtEnd * build.neck.boardThickness * over;
    const mass = shaft + neck.headMass + board;
    const moment = shaftMoment + neck.headMass * headAt - (board * over) / 2;
    expect(Math.abs(mass / build.neck.mass - 1)).toBeLessThan(1e-6);
    expect(Math.abs(moment / mass - build.neck.centreFromBody)).toBeLessThan(1e-3);
  });

  it("weighs as much as its parts together", async () => {
    const system = await weighed(instrument);
    const plate = (which: "top" | "back"): number => {
      const { wood, meanThickness, film, braces, patches } = build[which];
      const area = which === "top" ? plan.areas.topTrue : plan.areas.backTrue;
      const ribs = braces.reduce((sum, { path, heights, width, section, wood: own }) => {
        const run = Math.hypot(path[2]! - path[0]!, path[3]! - path[1]!);
        const share = equivalentRectangle(section);
        let face = 0;
        for (let i = 0; i + 1 < heights.length; i++)
          face += ((heights[i]![1] + heights[i + 1]![1]) / 2) * (heights[i + 1]![0] - heights[i]![0]);
        return sum + own.density * share.width * share.height * width * run * face;
      }, 0);
      const glued = patches.reduce(
        (sum, p) => sum + p.wood.density * polygonArea(p.polygon) * p.thickness,
        0,
      );
      return area * (wood.density * meanThickness + (film?.massPerArea ?? 0)) + glued + ribs;
    };
    const { sides, bridge, bridgePlate } = build;
    const height = (build.body.depthAtTail + build.body.depthAtNeck) / 2;
    const edge = polygonPerimeter(plan.outlinePolygon);
    const side =
      edge * height * sides.plies.reduce((sum, ply) => sum + ply.wood.density * ply.thickness, 0) +
      edge * height * (sides.film?.massPerArea ?? 0);
    const linings = [sides.topLining, sides.backLining].reduce(
      (sum, l) => sum + edge * l.width * l.height * l.wood.density,
      0,
    );
    const parts =
      plate("top") +
      plate("back") +
      side +
      linings +
      bridge.mass +
      (bridgePlate === null
        ? 0
        : bridgePlate.wood.density * polygonArea(bridgePlate.polygon) * bridgePlate.thickness) +
      build.rimParts.reduce((sum, part) => sum + part.mass, 0);
    expect(Math.abs(system.totalMass / parts - 1)).toBeLessThan(0.015);
  });
});

describe("build states", () => {
  const { build, geometry, strings } = example("low-radial");
  const bare = buildStates.map((state) => bodyShell(build, geometry, strings, state));
  const first = (has: (spec: (typeof bare)[number]) => boolean): string =>
    buildStates[bare.findIndex(has)] ?? "never";

  it("bring each part in at its step, and none goes away again", () => {
    const parts: [string, (spec: (typeof bare)[number]) => boolean][] = [
      ["free top", (s) => s.top !== null],
      ["braced top", (s) => (s.top?.ribs.length ?? 0) > 0],
      ["top on the rim", (s) => s.sides !== null],
      ["top on the rim", (s) => s.blocks.some((b) => b.name === "neck block")],
      ["closed box", (s) => s.back !== null],
      ["closed box", (s) => s.rods.length > 0],
      ["necked", (s) => s.neck !== null],
      ["finished", (s) => s.top?.film !== null],
      ["strung", (s) => s.masses.some((m) => m.name === "tuners")],
      ["strung", (s) => s.springs.length > 0],
    ];
    for (const [state, has] of parts) {
      expect(first(has)).toBe(state);
      expect(bare.slice(buildStates.indexOf(state as (typeof buildStates)[number])).every(has)).toBe(true);
    }
  });

  it("glue the bridge on after the finish", () => {
    const patches = bare.map((s) => s.top?.patches.length ?? 0);
    const at = (state: (typeof buildStates)[number]) => patches[buildStates.indexOf(state)]!;
    expect(at("free top")).toBe(0);
    expect(at("bridged") - at("finished")).toBe(build.bridge.patches.length);
    expect(at("strung")).toBe(at("bridged"));
  });
});

it("a left-handed instrument has the structure of its right-handed twin, number for number", () => {
  const [right, left] = ["right", "left"].map((hand) => example("low-radial", hand));
  const specs = [right!, left!].map(({ build, geometry, strings }) =>
    bodyShell(build, geometry, strings, "strung"),
  );
  expect(specs[1]).toEqual(specs[0]);
});

describe("factors on two masses", () => {
  it("keep mass and first moment where both can be positive", () => {
    const [f, g] = massFactors([0.4, 0.08], [0.1, 0.05], [0.6, 0.16]);
    expect(f * 0.4 + g * 0.1).toBeCloseTo(0.6, 12);
    expect(f * 0.08 + g * 0.05).toBeCloseTo(0.16, 12);
  });

  it("keep the mass alone where the centre cannot be met", () => {
    const [f, g] = massFactors([0.4, 0.08], [0.1, 0.05], [0.6, 0.01]);
    expect(f).toBe(g);
    expect(f * 0.5).toBeCloseTo(0.6, 12);
  });
});
