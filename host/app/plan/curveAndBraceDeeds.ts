import type { Point } from "#engine/geometry";
import type { InstrumentSketch, SketchBrace } from "#engine/pipeline";
import { benchDeeds, type FieldChange, type Json, useBench } from "../bench/index.ts";
import { batten } from "./batten.ts";
import { usePlan } from "./planState.ts";
import { type Setting, typedChanges } from "./settings.ts";
import { typedLength } from "./typed.ts";
import { plateOf } from "./useHandles.ts";

type Plate = "top" | "back";

/** The entries of a plate's braces as the document has them. */
function bracesOf(plate: Plate): readonly { readonly [key: string]: Json }[] {
  const group = useBench.getState().open?.document[plate] as { readonly braces?: unknown } | undefined;
  return (group?.braces ?? []) as readonly { readonly [key: string]: Json }[];
}

async function edit(changes: readonly FieldChange[], cause: string, chosen: string | null): Promise<void> {
  const answer = await benchDeeds.edit(changes, cause);
  if (answer.ok) usePlan.setState({ chosen, entry: null, refusal: null, told: cause });
  else
    usePlan.setState({
      refusal: { handle: "", words: answer.issues[0]?.message ?? "This change was refused." },
    });
}

/** No two braces of a plate have one name. */
export function freeName(names: readonly string[], wish: string): string {
  if (!names.includes(wish)) return wish;
  for (let i = 2; ; i++) if (!names.includes(`${wish} ${i}`)) return `${wish} ${i}`;
}

const placeText = (at: Point): Json => {
  const { units } = useBench.getState().preferences;
  return at.map((v) => typedLength(v, units));
};

/** A brace like the chosen one, or like the plate's last, laid beside it; a first one square across the middle of the body. */
export async function addBrace(sketch: InstrumentSketch): Promise<void> {
  const { face, chosen } = usePlan.getState();
  const plate = plateOf(face);
  const braces = sketch[plate].braces;
  const like = braces.find(({ path }) => path === chosen) ?? braces.at(-1);
  const entries = bracesOf(plate);
  const name = freeName(
    entries.map((entry) => String(entry["name"])),
    plate === "top" ? "new brace" : "new back brace",
  );
  const entry: Json =
    like === undefined
      ? firstBrace(sketch, plate, name)
      : { ...entries[indexOf(like)], name, ...shifted(like), ends: unhubbed(entries[indexOf(like)]) };
  const path = `${plate}.braces[${entries.length}]`;
  await edit([{ path, value: entry }], `${name} added to the ${plate}`, path);
}

/** Beside it by twice its width and a little. */
function shifted(brace: SketchBrace): { readonly from: Json; readonly to: Json } {
  const [dx, dy] = [brace.to[0] - brace.from[0], brace.to[1] - brace.from[1]];
  const length = Math.hypot(dx, dy);
  const by: Point = [
    (-dy / length) * 0.002 * Math.round(1000 * brace.width),
    (dx / length) * 0.002 * Math.round(1000 * brace.width),
  ];
  const moved = (end: Point): Json => placeText([end[0] + by[0], end[1] + by[1]]);
  return { from: moved(brace.from), to: moved(brace.to) };
}

/** A copy is not of the hub, whose list of braces the document keeps apart. */
function unhubbed(entry: { readonly [key: string]: Json } | undefined): Json {
  const ends = (entry?.["ends"] ?? ["let-in", "let-in"]) as readonly string[];
  return ends.map((end) => (end === "hub" ? "butted" : end));
}

function firstBrace(sketch: InstrumentSketch, plate: Plate, name: string): Json {
  const document = useBench.getState().open?.document[plate] as { readonly wood?: Json } | undefined;
  const x = sketch.length / 2;
  return {
    name,
    wood: plate === "top" ? (document?.wood ?? "Spruce, Sitka") : "Spruce, Sitka",
    from: placeText([x, -0.1]),
    to: placeText([x, 0.1]),
    width: typedLength(0.008, useBench.getState().preferences.units),
    height: typedLength(0.014, useBench.getState().preferences.units),
    section: { kind: "parabolic", wall: 0.5 },
    profile: { kind: "uniform" },
    ends: ["butted", "butted"],
  };
}

function indexOf(brace: SketchBrace): number {
  return Number(/\[(\d+)\]$/.exec(brace.path)?.[1]);
}

/** The chosen brace once more, mirrored about the centreline. */
export async function duplicateBrace(sketch: InstrumentSketch): Promise<void> {
  const { face, chosen } = usePlan.getState();
  const plate = plateOf(face);
  const brace = sketch[plate].braces.find(({ path }) => path === chosen);
  if (brace === undefined) return;
  const entries = bracesOf(plate);
  const entry = entries[indexOf(brace)];
  const name = freeName(
    entries.map((e) => String(e["name"])),
    `${brace.name}, mirrored`,
  );
  const mirrored = (end: Point): Json => placeText([end[0], -end[1]]);
  const path = `${plate}.braces[${entries.length}]`;
  await edit(
    [
      {
        path,
        value: {
          ...entry,
          name,
          from: mirrored(brace.from),
          to: mirrored(brace.to),
          ends: unhubbed(entry),
        },
      },
    ],
    `${brace.name} duplicated on the other side`,
    path,
  );
}

/** Takes the chosen brace out, and its name from crossings and hub. */
export async function removeBrace(sketch: InstrumentSketch): Promise<void> {
  const { face, chosen } = usePlan.getState();
  const plate = plateOf(face);
  const brace = sketch[plate].braces.find(({ path }) => path === chosen);
  if (brace === undefined) return;
  await edit(
    [...mentions(plate, brace.name), { path: brace.path, value: undefined }],
    `${brace.name} taken out of the ${plate}`,
    null,
  );
}

function mentions(plate: Plate, name: string): readonly FieldChange[] {
  const group = (useBench.getState().open?.document[plate] ?? {}) as {
    readonly crossings?: readonly { readonly braces: readonly string[] }[];
    readonly hub?: { readonly braces: readonly string[] };
  };
  const crossings = (group.crossings ?? []).flatMap(({ braces }, i): FieldChange[] =>
    braces.includes(name) ? [{ path: `${plate}.crossings[${i}]`, value: undefined }] : [],
  );
  const hub = group.hub?.braces ?? [];
  return [
    // from the last: the places of those before stay what they are
    ...crossings.reverse(),
    ...(hub.includes(name)
      ? [{ path: `${plate}.hub.braces`, value: hub.filter((other) => other !== name) }]
      : []),
  ];
}

/** From dimensions to points: the batten is laid along the outline as it is, and kept within a tenth of a millimetre. */
export async function toPoints(sketch: InstrumentSketch): Promise<void> {
  const { outline } = sketch.shape;
  if (outline.kind !== "dimensions") return;
  const points = await new Promise<Float64Array | null>((settle) =>
    batten.ask({ kind: "outline", by: outline, cutaway: null }, (answer, last) => {
      if (!last) return;
      settle(answer.ok && answer.shape.kind === "outline" ? answer.shape.points : null);
    }),
  );
  if (points === null) return;
  const document = (useBench.getState().open?.document["outline"] ?? {}) as { readonly [key: string]: Json };
  const settings: readonly Setting[] = [{ path: "outline.points", kind: "points", value: points }];
  await edit(
    [
      { path: "outline.kind", value: "points" },
      ...Object.keys(document)
        .filter((key) => key !== "kind")
        .map((key): FieldChange => ({ path: `outline.${key}`, value: undefined })),
      ...typedChanges(settings, "metric"),
    ],
    "outline held by free weights, its curve kept within 0.1 mm",
    null,
  );
}

/** The same for a hole that was an ellipse: points along it, its lip left as it is. */
export async function holeToPoints({ shape, hole }: InstrumentSketch): Promise<void> {
  if (shape.hole.kind !== "ellipse") return;
  // every other corner: a spline through points 3 to 6 mm apart lies within a hundredth of a millimetre of an ellipse
  const value = hole.edge.filter((_, i) => i % 4 < 2);
  await edit(
    [
      { path: "soundHole.kind", value: "curve" },
      ...["centre", "semiAxes", "angle"].map(
        (key): FieldChange => ({ path: `soundHole.${key}`, value: undefined }),
      ),
      ...typedChanges([{ path: "soundHole.points", kind: "points", value }], "metric"),
    ],
    "sound hole held by free weights, its curve kept within 0.1 mm",
    null,
  );
}
