import { inUnit, parseQuantity } from "#engine/units";
import type { Json } from "../bench/index.ts";
import { valueAt } from "./fieldDeeds.ts";
import type { Shape } from "./shape.ts";
import { startingValue } from "./startingValue.ts";

/**
 * What a field starts as in this very document, where the schema's example cannot know it: as many notes as strings, as many
 * weights as frets, today's date. `keys` lead to the field, indices left out.
 */
export function startFor(keys: readonly string[], shape: Shape, document: Json, today: string): Json {
  const frets = Number(valueAt(document, "fingerboard.frets") ?? 20);
  const strings = (valueAt(document, "strings.set") ?? []) as readonly { readonly note?: Json }[];
  switch (keys.join(".")) {
    case "strings.tunings":
      return [{ name: "another tuning", notes: strings.map(({ note }) => note ?? "E4") }];
    case "fingerboard.centsTable":
      return Array.from({ length: frets }, (_, i) => 100 * (i + 1));
    case "setup.weights":
      return Array.from({ length: frets }, (_, i) => (i < 12 ? 1 : 0.5));
    case "neck.head.posts":
      return strings.map((_, i) => {
        const row = Math.min(i, strings.length - 1 - i);
        const side = i < strings.length / 2 ? -1 : 1;
        return [`${44 + 40 * row} mm`, `${side * (18 - 7 * row)} mm`];
      });
  }
  return dated(withHoldings(keys, startingValue(shape), document), today);
}

/** Parts that name other parts start with names that are there. */
function withHoldings(keys: readonly string[], start: Json, document: Json): Json {
  const plate = keys[0] ?? "";
  const braces = (valueAt(document, `${plate}.braces`) ?? []) as readonly Brace[];
  const group = start as { readonly [key: string]: Json };
  if (keys[1] === "hub" && keys.length === 2) return { ...group, ...hubAtEnds(group, braces) };
  const [one, other] = braces.map(({ name }) => name ?? "");
  const pair = one === undefined || other === undefined ? {} : { braces: [one, other] };
  return keys[1] === "crossings" && !Array.isArray(start) ? { ...group, ...pair } : start;
}

interface Brace {
  readonly name?: Json;
  readonly from?: Json;
  readonly to?: Json;
}

/** A hub so far round the place where ends of braces meet takes all that end within it, mm. */
const hubReach = 70;

/** A hub where ends of braces come nearest to each other, large enough for all that end there. */
function hubAtEnds(hub: { readonly [key: string]: Json }, braces: readonly Brace[]): { [key: string]: Json } {
  const ends = braces.flatMap(({ name, from, to }) =>
    [from, to].flatMap((place) => {
      const at = millimetresAt(place);
      return at === null || typeof name !== "string" ? [] : [{ name, at }];
    }),
  );
  const apart = (a: Place, b: Place): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
  const pairs = ends.flatMap((a, i) =>
    ends.slice(i + 1).flatMap((b) => (a.name === b.name ? [] : [{ a, b, gap: apart(a.at, b.at) }])),
  );
  const nearest = pairs.reduce<(typeof pairs)[number] | null>(
    (best, pair) => (best === null || pair.gap < best.gap ? pair : best),
    null,
  );
  if (nearest === null) return {};
  const round = (middle: Place) => ends.filter(({ at }) => apart(at, middle) <= hubReach);
  const first = round(mean([nearest.a.at, nearest.b.at]));
  const centre = mean(first.map(({ at }) => at));
  const held = round(centre);
  const reach = Math.max(20, ...held.map(({ at }) => apart(at, centre) + 8));
  const size = `${Math.ceil(reach)} mm`;
  return {
    braces: [...new Set(held.map(({ name }) => name))],
    patch: {
      ...(hub["patch"] as { readonly [key: string]: Json }),
      shape: {
        kind: "ellipse",
        centre: centre.map((mm) => `${mm.toFixed(1)} mm`),
        semiAxes: [size, size],
      },
    },
  };
}

type Place = readonly [number, number];

function mean(places: readonly Place[]): Place {
  const sum = places.reduce<Place>((a, b) => [a[0] + b[0], a[1] + b[1]], [0, 0]);
  return [sum[0] / places.length, sum[1] / places.length];
}

function millimetresAt(place: Json | undefined): Place | null {
  if (!Array.isArray(place)) return null;
  const [x, y] = (place as readonly Json[]).map((text) => {
    const parsed = typeof text === "string" ? parseQuantity(text, "length") : null;
    return parsed?.ok ? inUnit(parsed.value, "mm") : null;
  });
  return x == null || y == null ? null : [x, y];
}

function dated(value: Json, today: string): Json {
  if (typeof value !== "object" || value === null || Array.isArray(value) || !("date" in value)) return value;
  return { ...(value as { readonly [key: string]: Json }), date: today };
}
