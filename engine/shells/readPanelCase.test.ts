import { describe, expect, it } from "vitest";
import { readPanelCase } from "./readPanelCase.ts";

const good = () => ({
  id: "t",
  analysis: "modes",
  n_modes: 4,
  panel: {
    outline: [
      [0, 0],
      [0.3, 0],
      [0.3, 0.2],
      [0, 0.2],
    ],
    holes: [],
    thickness: 0.003,
    dome_radius: null,
    dome_apex: null,
    material: { kind: "isotropic", rho: 2700, E: 70e9, nu: 0.3 },
    grain_angle_deg: 0,
    edge: "hinged",
    braces: [
      {
        from: [0.05, 0.05],
        to: [0.25, 0.15],
        width: 0.008,
        heights: [
          [0, 0.004],
          [1, 0.01],
        ],
        material: { kind: "orthotropic_axis", rho: 420, EL: 12e9, G: 0.75e9 },
        side: "inside",
      },
    ],
    plates: [],
  },
});

/** Sets the value at a dotted path and reads the case. */
function broken(path: string, value: unknown) {
  const made = good();
  const keys = path.split(".");
  let at = made as unknown as Record<string, unknown>;
  for (const key of keys.slice(0, -1)) at = at[key] as Record<string, unknown>;
  at[keys.at(-1)!] = value;
  return readPanelCase(made);
}

describe("reading a panel case", () => {
  it("reads a good one", () => {
    const read = readPanelCase(good());
    expect(read.ok && read.value.panel.ribs.length).toBe(1);
  });

  it("reads a rib of isotropic material, and one whose ends run out to nothing", () => {
    const metal = broken("panel.braces.0.material", { kind: "isotropic", rho: 2700, E: 70e9, nu: 0.25 });
    expect(metal.ok && metal.value.panel.ribs[0].material).toEqual({
      density: 2700,
      EL: 70e9,
      G: 28e9,
      ET: 70e9,
    });
    const heights = [
      [0, 0],
      [0.5, 0.01],
      [1, 0],
    ];
    const thin = broken("panel.braces.0.heights", heights);
    expect(thin.ok && thin.value.panel.ribs[0].heights).toEqual(heights);
  });

  it.each([
    ["panel.thickness", -0.003, "panel.thickness: must be above zero, found -0.003"],
    ["panel.thickness", "3 mm", 'panel.thickness: a finite number is wanted, found "3 mm"'],
    ["panel.thickness", Number.NaN, "panel.thickness: a finite number is wanted"],
    ["panel.edge", "glued", 'panel.edge: must be one of free, hinged, clamped, found "glued"'],
    [
      "panel.outline",
      [
        [0, 0],
        [1, 1],
        [1, 0],
        [0, 1],
      ],
      "panel.outline: the polygon crosses itself at (0.5, 0.5) m",
    ],
    [
      "panel.outline",
      [
        [0, 0],
        [1, 1],
      ],
      "panel.outline: a polygon has three points or more, found 2",
    ],
    [
      "panel.outline",
      [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 0],
      ],
      "panel.outline: point 3 and the one after it are the same",
    ],
    ["panel.braces.0.to", [0.5, 0.5], "panel.braces[0].to: (0.5, 0.5) m lies outside the outline"],
    ["panel.braces.0.heights", [[0, 0]], "panel.braces[0].heights: is zero all along"],
    ["panel.braces.0.heights", [[0.5, 0]], "panel.braces[0].heights[0][1]: must be above zero, found 0"],
    ["panel.braces", new Array(10_000).fill({}), "panel.braces: 10000 entries; at most 500 are allowed"],
    [
      "panel.holes",
      [
        [
          [1, 1],
          [2, 1],
          [2, 2],
        ],
      ],
      "panel.holes[0][0]: (1, 1) m lies outside the outline",
    ],
    ["panel.material.kind", "steel", "panel.material.kind: must be one of isotropic, orthotropic"],
    ["panel.dome_radius", 0.1, "panel.dome_apex: a list is wanted"],
    ["n_modes", 2.5, "n_modes: a whole number up to 500 is wanted, found 2.5"],
    ["analysis", undefined, "analysis: must be one of modes, static, found nothing"],
  ])("refuses %s = %j with its path", (path, value, message) => {
    const read = broken(path, value);
    expect(read).toMatchObject({ ok: false, reason: "bad-case" });
    expect(!read.ok && read.detail).toContain(message);
  });

  it("refuses what is no object, and a static case that floats", () => {
    expect(readPanelCase([])).toMatchObject({ ok: false, detail: "case: an object is wanted, found []" });
    expect(
      readPanelCase({ ...good(), analysis: "static", panel: { ...good().panel, edge: "free" } }),
    ).toMatchObject({
      ok: false,
      detail: "panel.edge: a static case needs its edge held, found free",
    });
  });
});
