import { describe, expect, it } from "vitest";
import { cutPlace, keyPose, poses, sayCut, sayFactor, sayMoment, shownFrom, zoomed } from "./bodyPose.ts";
import { squareView } from "./views.fixture.ts";

describe("keyPose", () => {
  it("turns by ten degrees a key, and back again", () => {
    const there = keyPose(poses.front, "ArrowLeft")!;
    expect(Math.abs(there.yaw)).toBeCloseTo(Math.PI / 18, 12);
    expect(keyPose(there, "ArrowRight")!.yaw).toBeCloseTo(0, 12);
    expect(keyPose(there, "Home")).toEqual(poses.aslant);
    expect(keyPose(there, "Tab")).toBeNull();
  });

  it("keeps within sizes that can be seen", () => {
    let pose = poses.front;
    for (let i = 0; i < 60; i++) pose = zoomed(pose, 1.2);
    expect(pose.zoom).toBeLessThanOrEqual(6);
  });
});

describe("shownFrom", () => {
  it("takes away what stands before the inside", () => {
    expect(shownFrom("in top").has("back")).toBe(false);
    expect(shownFrom("in top").has("top brace")).toBe(true);
    expect(shownFrom("front").size).toBe(8);
  });
});

describe("a cut", () => {
  const view = squareView();

  it("lies at a share of length or breadth", () => {
    expect(cutPlace(view, "across", 0.5)).toBeCloseTo(0.25, 12);
    expect(cutPlace(view, "along", 0)).toBeCloseTo(-0.2, 12);
  });

  it("is told from the tail, or to which side of the centreline by the hand", () => {
    expect(sayCut(view, "across", 0.5)).toBe("250 mm from the tail");
    expect(sayCut(view, "along", 1)).toBe("200 mm to the bass of the centreline");
    expect(sayCut(squareView({ hand: "left" }), "along", 1)).toBe("200 mm to the treble of the centreline");
  });
});

describe("words", () => {
  it("round a factor to what it can mean", () => {
    expect([3.34, 34.6, 12345].map(sayFactor)).toEqual(["3", "35", "12,000"]);
  });

  it("say the moment of the swing", () => {
    expect([0, 1, -0.5].map(sayMoment)).toEqual(["at rest", "farthest one way", "50 % the other way"]);
  });
});
