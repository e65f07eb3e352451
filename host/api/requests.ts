import { int, enum as oneOf, strictObject, string, type infer as Typed } from "zod";

/** Ids are made by the page (crypto.randomUUID), so that sending something twice does it once. */
const id = string().regex(/^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/);
/** One line of words: no control characters, no halves of characters. */
const words = (most: number) =>
  string()
    .trim()
    .min(1)
    .max(most)
    .regex(/^[^\p{Cc}\p{Surrogate}]*$/u);
/** What was done, in the maker's words: "ray 3: height 8.2 mm to 7.6 mm". */
const cause = words(300);
const name = words(120);
const revision = int().min(1);

/** A new instrument from a document's text. */
export const newInstrument = strictObject({ id, text: string(), cause });
/** One edit: the whole document as it shall be, and the revision that the page had in hand. */
export const edit = strictObject({ id, basis: revision, text: string(), cause });
/** Undo, redo: the revision that the page had in hand. */
export const step = strictObject({ id, basis: revision });
/** Makes an old revision, or one set aside by a conflict, the current one; the history grows by one. */
export const restore = strictObject({ id, basis: revision, revision, cause });
export const newKeepsake = strictObject({ id, name, revision });
export const putAway = strictObject({ away: oneOf(["yes", "no"]) });
export const preferences = strictObject({
  units: oneOf(["metric", "inch"]),
  light: oneOf(["day", "night", "system"]),
});

export type NewInstrument = Typed<typeof newInstrument>;
export type Edit = Typed<typeof edit>;
export type Step = Typed<typeof step>;
export type Restore = Typed<typeof restore>;
export type NewKeepsake = Typed<typeof newKeepsake>;
export type PutAway = Typed<typeof putAway>;
export type Preferences = Typed<typeof preferences>;
