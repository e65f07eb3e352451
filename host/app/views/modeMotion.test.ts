import { describe, expect, it } from "vitest";
import { carried, carriedInRows, carriersOf, plateFinder } from "./carriers.ts";
import { modeMotion, motionFor1N, sayMode } from "./modeMotion.ts";
import { squareView } from "./views.fixture.ts";

const view = squareView();

describe("carriersOf", () => {
  const mesh = view.plates.top;

  it("carries a place within a triangle by that triangle's plane", () => {
    // x + 2 y at the nodes is x + 2 y at every place of the plate
    const motion = Array.from({ length: 5 }, (_, n) => mesh.nodes[2 * n]! + 2 * mesh.nodes[2 * n + 1]!);
    const places = [0.1, 0.05, 0.4, -0.11, 0.25, 0];
    const moved = carried(carriersOf(plateFinder(mesh), places), motion);
    expect([...moved]).toEqual([0.2, 0.18, 0.25].map((v) => expect.closeTo(v, 6)));
  });

  it("carries a place beside the plate by the nodes nearest to it, weights together 1", () => {
    const { weights } = carriersOf(plateFinder(mesh), [-0.02, -0.22]);
    expect(weights[0]! + weights[1]! + weights[2]!).toBeCloseTo(1, 6);
    expect(weights[0]).toBeGreaterThan(0.9);
  });

  it("carries row after row in the parts asked for", () => {
    const rows = carriedInRows(carriersOf(plateFinder(mesh), [0.25, 0]), [1, 0.5, 0]);
    expect([...carried(rows, [0, 0, 0, 0, 1])]).toEqual([1, 0.5, 0].map((v) => expect.closeTo(v, 6)));
  });
});

describe("modeMotion", () => {
  it("scales the larger peak to 1 and lets the top's larger swing be outward", () => {
    const motion = modeMotion(view, null, 0)!;
    expect([...motion.top]).toEqual([0, 0, 0, 0, 1].map((v) => expect.closeTo(v, 9)));
    expect(motion.back[4]).toBeCloseTo(-0.5, 9);
  });

  it("is absent where a mode carries no shape", () => {
    expect(modeMotion(view, null, 1)).toBeNull();
    expect(modeMotion(view, null, 9)).toBeNull();
  });

  it("takes the hand's shapes where it has them", () => {
    const shapes = { count: 1, top: Float32Array.of(0, 0, 4, 0, 0), back: new Float32Array(5) };
    expect(modeMotion(view, shapes, 0)?.top[2]).toBe(1);
  });
});

describe("motionFor1N", () => {
  it("is speed over angular frequency, by the share of the saddle in the motion", () => {
    // the saddle's middle is the node that moves most: 0.1 m/s at 100 Hz
    expect(motionFor1N(view, 0)).toBeCloseTo(0.1 / (2 * Math.PI * 100), 9);
  });

  it("is absent where the saddle stands on a line that does not move", () => {
    const still = { ...view.modes[0]!, topMotion: Float64Array.of(1, 0, 0, 0, 0) };
    expect(motionFor1N(squareView({ modes: [still] }), 0)).toBeNull();
  });
});

describe("sayMode", () => {
  it("says where each plate moves and which way", () => {
    expect(sayMode(view, view.modes[0]!, modeMotion(view, null, 0)!)).toBe(
      "100 Hz, main top. The top moves 100\u00a0% out at the middle of the waist. The back moves 50\u00a0% in at the middle of the waist.",
    );
  });

  it("calls the bass side by the hand", () => {
    const mode = {
      ...view.modes[0]!,
      name: null,
      topMotion: Float64Array.of(0, 0, 0, 1, 0),
      backMotion: new Float64Array(5),
    };
    const said = (hand: "right" | "left") => {
      const one = squareView({ modes: [mode], hand });
      return sayMode(one, mode, modeMotion(one, null, 0)!);
    };
    expect(said("right")).toContain("bass side of the lower bout. The back hardly moves.");
    expect(said("left")).toContain("treble side of the lower bout");
  });
});
