import { strictObject, union } from "zod";
import { quantity, text, uncertain, uncertainNumber } from "./field.ts";

const loss = (about: string, example: number) =>
  uncertainNumber(about, { least: 0.0005, most: 0.3, example });
const stiffness = (about: string, least: string, most: string, example: string) =>
  uncertain("stress", about, { least, most, example });

/**
 * A piece of wood: a species by name, or a board with what is known of it. What is not given comes from the species;
 * without a species every value that the job needs must be given.
 */
export const wood = union([
  text("Species, as in the wood table", "Spruce, Sitka", 80),
  strictObject({
    species: text("Species, as in the wood table", "Spruce, Sitka", 80).optional(),
    board: text("Which board: mark, age, where it came from", "board 14, split in 2019", 400).optional(),
    density: uncertain("density", "Density with the water in it", {
      least: "60 kg/m3",
      most: "1500 kg/m3",
      example: "410 kg/m3",
    }).optional(),
    stiffnessAlong: stiffness("Young's modulus along the grain", "1 GPa", "40 GPa", "11.2 GPa").optional(),
    stiffnessAcross: stiffness(
      "Young's modulus across the grain, in the plane of the board",
      "0.05 GPa",
      "10 GPa",
      "0.85 GPa",
    ).optional(),
    shearInPlane: stiffness(
      "Shear modulus in the plane of the board",
      "0.05 GPa",
      "10 GPa",
      "0.75 GPa",
    ).optional(),
    shearAlongThrough: stiffness(
      "Shear modulus along the grain through the thickness",
      "0.02 GPa",
      "10 GPa",
      "0.7 GPa",
    ).optional(),
    shearAcrossThrough: stiffness(
      "Rolling shear modulus, across the grain through the thickness",
      "0.005 GPa",
      "5 GPa",
      "0.04 GPa",
    ).optional(),
    poisson: uncertainNumber(
      "Poisson's ratio: strain across over strain along, under stress along the grain",
      { least: 0.05, most: 0.7, example: 0.37 },
    ).optional(),
    lossAlong: loss("Loss factor (1/Q) along the grain", 0.007).optional(),
    lossAcross: loss("Loss factor (1/Q) across the grain", 0.02).optional(),
    lossShear: loss("Loss factor (1/Q) in shear in the plane", 0.016).optional(),
    lossThrough: loss("Loss factor (1/Q) in shear through the thickness", 0.02).optional(),
    moisture: quantity("ratio", "Moisture content at which the values hold", {
      least: "3 %",
      most: "25 %",
      example: "8 %",
    }).optional(),
    runout: quantity("angle", "Angle of the fibres out of the board's face", {
      sign: "not-negative",
      most: "30 deg",
      example: "1.5 deg",
    }).optional(),
    ringAngle: quantity("angle", "Growth rings off quarter", {
      sign: "not-negative",
      most: "90 deg",
      example: "5 deg",
    }).optional(),
    note: text("What a reader should know of this board", "a pin knot near the edge").optional(),
  }),
]).meta({ id: "wood", description: "A piece of wood: a species by name, or what is known of the board" });
