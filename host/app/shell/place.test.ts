import { describe, expect, it } from "vitest";
import { addressOf, placeOf } from "./place.ts";

const instrument = "4d24258f-966f-40f2-bffd-30cce9e50456";

describe("the page's place in its address", () => {
  it("is found again from the address that it wrote", () => {
    const place = { instrument, stage: "voice", view: "response" } as const;
    expect(placeOf(addressOf(place).slice(1))).toEqual(place);
    expect(placeOf(addressOf({ ...place, view: null }).slice(1))).toEqual({ ...place, view: null });
  });

  it("is the list where no instrument, or no id, is named", () => {
    expect(placeOf("").instrument).toBeNull();
    expect(placeOf("?instrument=../../etc").instrument).toBeNull();
    expect(addressOf({ instrument: null, stage: "load", view: null })).toBe("/");
  });

  it("is the outline where a stage is named that there is not", () => {
    expect(placeOf(`?instrument=${instrument}&stage=finish`).stage).toBe("outline");
  });
});
