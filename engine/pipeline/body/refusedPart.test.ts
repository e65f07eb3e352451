/** A body that cannot be solved is refused with the name of its part, never with the number of an unknown. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { opened, quiet } from "#engine/numerics";
import type { BodyShellSpec } from "#engine/shells";
import { wasmKernels } from "#kernels";
import { alone } from "../crew.ts";
import { instrumentGeometry } from "../geometry.ts";
import { stringSet } from "../stringSet.ts";
import { bodyShell } from "../structure/bodyShell.ts";
import { defaultBodySettings } from "./bodySettings.ts";
import { stageJobs } from "./jobs.ts";
import { modesByTwo } from "./modesByTwo.ts";
import { loadInput } from "./stringLoad.ts";
import { madeBody } from "./wholeBody.ts";

const text = readFileSync(new URL("../../../examples/low-radial.fairbout.json", import.meta.url), "utf8");
const checked = checkInstrument(text);
if (!checked.ok) throw new Error("the example is at fault");
const geometry = opened(instrumentGeometry(checked.build, checked.plan));
const strings = opened(stringSet(checked.build));
const sound = bodyShell(checked.build, geometry, strings, "strung");
const load = loadInput(checked.build, geometry, strings);

const settings = { ...defaultBodySettings, meshSize: { top: 0.035, back: 0.035, side: 0.045 } };
const ctx = { ...quiet, kernels: wasmKernels };

/** Reason and detail of what refuses the body; its strings pull so many times as hard as they should. */
async function refusal(spec: BodyShellSpec, pull = 0): Promise<readonly [string, string]> {
  const crew = alone(stageJobs);
  const made = await madeBody(spec, settings, crew, ctx);
  if (!made.ok) return [made.reason, made.detail];
  const input = {
    ...made.value,
    points: [],
    load:
      pull === 0 ? null : { ...load, pulls: load.pulls.map((p) => ({ ...p, tension: p.tension * pull })) },
  };
  const found = await modesByTwo(input, 300, crew, { stage: () => ctx });
  return found.ok ? ["none", ""] : [found.reason, found.detail];
}

const withRod = (change: Partial<BodyShellSpec["rods"][number]>): BodyShellSpec => ({
  ...sound,
  rods: sound.rods.map((rod, i) => (i === 1 ? { ...rod, ...change } : rod)),
});

describe("what cannot be solved is named by its part:", () => {
  it("nothing, where the body is sound", async () => {
    expect(await refusal(sound, 1)).toEqual(["none", ""]);
  });

  it("a rod without stiffness to speak of", async () => {
    const [reason, detail] = await refusal(withRod({ stiffness: 1e-3 }));
    expect(reason).toBe("rigid-motions");
    expect(detail).toMatch(/^rod 2 moves against the rest/);
  });

  it("a rod stiffer beyond all proportion, at what it is fixed to", async () => {
    const [reason, detail] = await refusal(withRod({ stiffness: 1e25 }));
    expect(reason).toMatch(/singular|not-positive-definite/);
    expect(detail).toMatch(/rod 2|neck block|side/);
    expect(detail).not.toMatch(/degree of freedom|pivot/);
  });

  it("a neck that does not resist twisting", async () => {
    const neck = sound.neck!;
    const stations = neck.stations.map((s) => ({ ...s, GJ: s.GJ * 1e-15 }));
    const [reason, detail] = await refusal({ ...sound, neck: { ...neck, stations } });
    expect(reason).toMatch(/singular|rigid-motions/);
    expect(detail).toMatch(/the neck(:| moves)/);
  });

  it("a block that touches nothing", async () => {
    const lost = {
      name: "lost block",
      mass: 0.1,
      centre: [0.2, 0, -0.05],
      size: [0.02, 0.02, 0.02],
    } as const;
    const [reason, detail] = await refusal({ ...sound, blocks: [...sound.blocks, lost] });
    expect(reason).toBe("block-touches-nothing");
    expect(detail).toContain("lost block");
  });

  it("wood without density", async () => {
    const top = sound.top!;
    const [reason, detail] = await refusal({ ...sound, top: { ...top, wood: { ...top.wood, density: 0 } } });
    expect(reason).toBe("bad-material");
    expect(detail).toContain("the top's wood has a density of 0");
  });

  it.each([20, 300])("a body under %i times the pull of its strings, which buckles", async (pull) => {
    const [reason, detail] = await refusal(sound, pull);
    expect(reason).toBe("buckled");
    expect(detail).toMatch(/under the pull of its strings .* at the (top|back|side|neck)/);
    expect(detail).not.toMatch(/degree of freedom|pivot/);
  });
});
