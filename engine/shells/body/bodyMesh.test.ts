import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { guitarBody } from "./body.fixture.ts";
import { bodyFaults } from "./bodyFaults.ts";
import { bodyMesh } from "./bodyMesh.ts";

const coarse = { top: 0.014, back: 0.014, side: 0.014 };

describe("mesh of the whole body", () => {
  it.each([
    ["a hole inside the top", {}],
    ["a hole that breaks the edge", { holeAtEdge: true }],
  ])("is closed, oriented outwards and open at one rim only: %s", (_, o) => {
    const mesh = opened(bodyMesh(guitarBody(o), coarse));
    expect(bodyFaults(mesh, 1)).toEqual([]);
  });
});
