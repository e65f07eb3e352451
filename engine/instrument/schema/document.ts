import { array, type infer as Infer, literal, strictObject } from "zod";
import { blocks, cutaway, outline, rods, sides, soundHole } from "./body.ts";
import { bridge, bridgePlate, saddle } from "./bridge.ts";
import { day, quantity, text, word } from "./field.ts";
import { log } from "./log.ts";
import { fingerboard, neck } from "./neck.ts";
import { plate } from "./plate.ts";
import { nut, setup } from "./setup.ts";
import { climate, finish, fittings, glue, meant, targets } from "./shop.ts";
import { strings } from "./strings.ts";

/** The version this schema describes; older ones are brought forward by migrations/. */
export const currentVersion = 1;
export const formatName = "fairbout/instrument";

const brief = strictObject({
  client: text("For whom", "a fingerstyle player", 200).optional(),
  wishes: text(
    "What the player wants, in the player's words",
    "a low, open voice and an easy reach up the neck",
  ),
  style: text("How it will be played", "fingerstyle, bare flesh and nail", 300),
  reach: text("Reach and hand", "long fingers, plays past fret 12", 300).optional(),
  pickup: text("Wishes for a pickup", "none", 300).optional(),
  case: text("Case", "fitted wooden case", 300).optional(),
  price: text("Price agreed", "agreed by letter", 200).optional(),
  hours: quantity("duration", "Hours planned", { most: "2000 h", example: "180 h" }).optional(),
  due: day("When it is promised").optional(),
  papers: array(text("A paper that goes with it", "receipt for the rosewood of 2014", 300))
    .max(50)
    .meta({ description: "Papers for listed woods and the like" })
    .optional(),
  approved: strictObject({ by: text("Who approved", "the client", 200), date: day("When") })
    .meta({ description: "The client's approval before irreversible cuts" })
    .optional(),
}).meta({ description: "What was agreed" });

/** The whole document. Sections may stand in any order in the file. */
export const instrumentSchema = strictObject({
  $schema: text("Where the JSON Schema lies, for editors", "../docs/instrument.schema.json", 300).optional(),
  format: literal(`${formatName}@${currentVersion}`).meta({
    description: "Format and version",
    examples: [`${formatName}@${currentVersion}`],
  }),
  name: text("Name of the instrument", "Low radial", 120),
  brief,
  hand: word("Hand of the player; places in the document count towards the bass side either way", [
    "right",
    "left",
  ]),
  strings,
  neck,
  fingerboard,
  outline,
  cutaway: cutaway.optional(),
  soundHole,
  top: plate.meta({ description: "Top" }),
  back: plate.meta({ description: "Back" }),
  sides,
  bridge,
  bridgePlate: bridgePlate.optional(),
  saddle,
  nut: nut.optional(),
  setup: setup.optional(),
  blocks,
  rods: rods.optional(),
  finish: finish.optional(),
  glue: glue.optional(),
  fittings,
  climate,
  targets: targets.optional(),
  meant: meant.optional(),
  log: log.optional(),
}).meta({
  title: "Fairbout instrument",
  description: "One acoustic guitar: what was agreed, what is drawn, what was measured",
});

export type InstrumentDocument = Infer<typeof instrumentSchema>;
