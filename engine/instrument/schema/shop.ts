import { array, strictObject } from "zod";
import { plainNumber, quantity, text, uncertain, word } from "./field.ts";

const film = (words: string) =>
  uncertain("length", `Thickness of the dry film on the ${words}`, {
    least: "0.005 mm",
    most: "1 mm",
    example: "0.1 mm",
  });

export const finish = strictObject({
  kind: text("What the finish is", "nitrocellulose lacquer", 120),
  density: quantity("density", "Density of the dry film", {
    least: "700 kg/m3",
    most: "2000 kg/m3",
    example: "1200 kg/m3",
  }),
  stiffness: quantity("stress", "Young's modulus of the cured film", {
    least: "0.05 GPa",
    most: "8 GPa",
    example: "2 GPa",
  }),
  loss: plainNumber("Loss factor of the film", { least: 0.001, most: 0.5, example: 0.05 }),
  top: film("top").optional(),
  back: film("back").optional(),
  sides: film("sides").optional(),
  cure: quantity("duration", "Rest before the bridge is fitted", {
    sign: "not-negative",
    most: "60 weeks",
    example: "4 weeks",
  }).optional(),
}).meta({ description: "Finish" });

const glueName = (what: string) => text(`Glue for ${what}`, "hot hide glue", 80);

export const glue = strictObject({
  plates: glueName("joining the plates").optional(),
  braces: glueName("the braces").optional(),
  bridge: glueName("the bridge").optional(),
  box: glueName("closing the box").optional(),
  neck: glueName("the neck").optional(),
}).meta({ description: "Glues" });

const massOf = (what: string, most: string, example: string) =>
  quantity("mass", `Mass of ${what}`, { sign: "not-negative", most, example });

export const fittings = strictObject({
  tuners: strictObject({
    count: plainNumber("How many", { least: 0, most: 14, whole: true, example: 6 }),
    massEach: massOf("one tuner with its button", "120 g", "28 g"),
    kind: text("What they are", "enclosed, 18:1", 120).optional(),
  }),
  endPin: strictObject({ mass: massOf("the end pin or jack", "150 g", "12 g") }).optional(),
  strapButton: strictObject({ mass: massOf("the strap button", "60 g", "6 g") }).optional(),
  pickup: strictObject({
    kind: text("What it is", "film under the saddle", 120),
    mass: massOf("what is fixed to the bridge or the top", "200 g", "4 g"),
    where: word("Where that mass sits", ["bridge", "bridge-plate", "side", "tail"]),
  }).optional(),
  guard: strictObject({
    mass: massOf("the guard plate on the top", "100 g", "11 g"),
    note: text("What it is", "clear film", 120).optional(),
  }).optional(),
}).meta({ description: "Fittings" });

const air = (about: string, temperature: string, humidity: string) =>
  strictObject({
    temperature: quantity("temperature", "Air temperature", {
      least: "-30 C",
      most: "80 C",
      example: temperature,
    }),
    humidity: quantity("humidity", "Relative humidity", {
      least: "1 %RH",
      most: "99 %RH",
      example: humidity,
    }),
  }).meta({ description: about });

export const climate = strictObject({
  shop: air("The shop while building", "21 C", "45 %RH"),
  homeDry: air("The player's home at its driest", "21 C", "25 %RH"),
  homeDamp: air("The player's home at its dampest", "24 C", "68 %RH"),
  hotCar: air("A closed car in the sun; 60 C and 10 %RH if not said", "60 C", "10 %RH").optional(),
}).meta({ description: "Climate of shop and of home" });

const range = (kind: "frequency" | "mass" | "angle", about: string, example: string) =>
  strictObject({
    low: quantity(kind, "Not below", { example }).optional(),
    high: quantity(kind, "Not above", { example }).optional(),
  }).meta({ description: about });

export const targets = strictObject({
  mainAir: range("frequency", "Where the main air mode should sit", "98 Hz").optional(),
  mainTop: range("frequency", "Where the main top mode should sit", "190 Hz").optional(),
  mainBack: range("frequency", "Where the main back mode should sit", "225 Hz").optional(),
  mass: range("mass", "Mass of the finished guitar", "1.9 kg").optional(),
  bridgeRotation: range("angle", "Elastic rotation of the bridge at tuning", "2 deg").optional(),
  levelSpreadDb: strictObject({
    high: plainNumber("Spread of level over the board in dB, not above", { least: 0, most: 60, example: 8 }),
  }).optional(),
}).meta({ description: "What the maker aims at" });

export const meant = array(
  strictObject({
    verdict: text("Which verdict", "evenness", 60),
    reason: text("Why it is meant", "the player wants the low D to ring longest"),
  }),
)
  .max(50)
  .meta({ description: "Verdicts that are meant, with the reason" });
