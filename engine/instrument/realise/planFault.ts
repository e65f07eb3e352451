import { millimetres } from "#engine/units";
import type { Issue } from "../issue.ts";

/** Where in the document a refusal of the geometry belongs, and what would mend it. */
const places: Readonly<
  Record<string, { readonly path: string; readonly message: string; readonly remedy: string }>
> = {
  "outline-crosses-itself": {
    path: "outline",
    message: "The outline crosses itself",
    remedy: "Put the points in order round the body, none of them twice; or widen what pinches.",
  },
  "hole-crosses-itself": {
    path: "soundHole",
    message: "The edge of the sound hole crosses itself",
    remedy: "Put its points in order round the hole.",
  },
  "hole-outside": {
    path: "soundHole",
    message: "The sound hole lies wholly outside the body",
    remedy:
      "Move its centre: the first number runs from the tail towards the neck, the second towards the bass side.",
  },
  "hole-larger-than-top": {
    path: "soundHole",
    message: "The sound hole leaves hardly any top",
    remedy: "Make it smaller.",
  },
  "hole-cuts-top-apart": {
    path: "soundHole",
    message: "The sound hole cuts the top apart",
    remedy: "Move it, or make it smaller.",
  },
  "hole-size": { path: "soundHole", message: "The sound hole has no size", remedy: "Give both half axes." },
  depth: {
    path: "sides",
    message: "The box has no depth",
    remedy: "Look at depthAtTail, depthAtNeck and the radii of the domes.",
  },
  "dome-too-tight": {
    path: "top.dome",
    message: "A dome is too tight for the plate",
    remedy: "Take a larger radius.",
  },
  "side-too-thick": {
    path: "sides.thickness",
    message: "The side is thicker than the outline's tightest bend",
    remedy: "Take a thinner side, or open the bend.",
  },
  dimensions: {
    path: "outline",
    message: "These dimensions make no guitar",
    remedy: "From the tail: lower bout, waist, upper bout, neck end; the waist narrower than both bouts.",
  },
  "no-fair-curve": {
    path: "outline",
    message: "No fair curve runs through these dimensions",
    remedy: "Leave the radii out, or ease widths and stations.",
  },
  "too-few-points": {
    path: "outline.points",
    message: "There are too few points",
    remedy: "Give more points round the body.",
  },
  "points-coincide": {
    path: "outline.points",
    message: "Two neighbouring points are the same",
    remedy: "Take one of them out.",
  },
  "not-across-centreline": {
    path: "outline.points",
    message: "The outline does not cross the centreline at both ends",
    remedy: "Let it run round the centreline from tail to neck end.",
  },
};

/** A refusal of `bodyPlan` as an issue. Anything it says about a cutaway belongs to the cutaway. */
export function planFault(reason: string, detail: string, outlinePath = "outline"): Issue {
  const place =
    places[reason] ??
    (reason.includes("cutaway")
      ? {
          path: "cutaway",
          message: "The cutaway cannot be drawn",
          remedy: "Ease its depth, radii or setback.",
        }
      : {
          path: outlinePath,
          message: "The body cannot be drawn",
          remedy: "Look at the outline's dimensions.",
        });
  const path = reason === "dome-too-tight" && detail.includes("back") ? "back.dome" : place.path;
  return {
    code: reason,
    path,
    message: `${place.message}: ${inMillimetres(detail).replace(/^the hole \((.*)\) lies wholly outside the body$/, "it spans $1")}.`,
    remedy: place.remedy,
    severity: "stop",
  };
}

const number = String.raw`-?\d+(?:\.\d+)?(?:e[-+]?\d+)?`;
const place = String.raw`\(${number}, ${number}(?:, ${number})?\)`;
/** A length, a pair, or several of them in a row, with one "m" behind the last: "0.1 to 10 m", "(0.2, 0.1) to (0.3, 0) m". */
const metresInWords = new RegExp(
  String.raw`(?:${place}|${number})(?:(?:, (?:y )?| to | and )(?:${place}|${number}))* m\b(?!2|3)`,
  "g",
);

/** The same of areas: "0.087 and 0.043 m2". */
const squareMetresInWords = new RegExp(String.raw`${number}(?:(?:, | and )${number})* m2\b`, "g");

/** The sciences speak in metres and square metres; a maker reads millimetres and square centimetres. */
export function inMillimetres(detail: string): string {
  const areas = detail.replace(squareMetresInWords, (words) =>
    words
      .replace(new RegExp(`${number}(?!\\d*$)`, "g"), (text) => String(Math.round(Number(text) * 1e4)))
      .replace(/m2$/, "cm2"),
  );
  return areas.replace(metresInWords, (words) =>
    words
      .replace(new RegExp(number, "g"), (text) => String(Number(millimetres(Number(text), 1))))
      .replace(/m$/, "mm"),
  );
}
