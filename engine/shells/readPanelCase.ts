import {
  distanceToPolyline,
  type Polygon,
  pointInPolygon,
  polygonBounds,
  selfCrossings,
} from "#engine/geometry";
import { done, failed, type Outcome } from "#engine/numerics";
import type { EdgeSupport, Panel, PanelPatch, PanelRib, PlyMaterial, RibMaterial, Side } from "./panel.ts";
import type { PanelCase, PanelCaseLoad } from "./panelCase.ts";

/** A fault in a case file, thrown inside this file only and returned as an Outcome. */
class Fault extends Error {}

type Json = Readonly<Record<string, unknown>>;

const no = (path: string, what: string): never => {
  throw new Fault(`${path}: ${what}`);
};
const shown = (v: unknown): string => {
  const text = JSON.stringify(v) ?? "nothing";
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
};

function object(v: unknown, path: string): Json {
  return typeof v === "object" && v !== null && !Array.isArray(v)
    ? (v as Json)
    : no(path, `an object is wanted, found ${shown(v)}`);
}
function list(v: unknown, path: string, most = 5000): readonly unknown[] {
  if (!Array.isArray(v)) return no(path, `a list is wanted, found ${shown(v)}`);
  return v.length <= most ? v : no(path, `${v.length} entries; at most ${most} are allowed`);
}
function number(v: unknown, path: string): number {
  return typeof v === "number" && Number.isFinite(v)
    ? v
    : no(path, `a finite number is wanted, found ${shown(v)}`);
}
function positive(v: unknown, path: string): number {
  const n = number(v, path);
  return n > 0 ? n : no(path, `must be above zero, found ${n}`);
}
function oneOf<T extends string>(v: unknown, allowed: readonly T[], path: string): T {
  return allowed.find((a) => a === v) ?? no(path, `must be one of ${allowed.join(", ")}, found ${shown(v)}`);
}
function point(v: unknown, path: string): readonly [number, number] {
  const p = list(v, path);
  return p.length === 2
    ? [number(p[0], `${path}[0]`), number(p[1], `${path}[1]`)]
    : no(path, `two numbers [x, y] are wanted, found ${shown(v)}`);
}
function polygon(v: unknown, path: string): Polygon {
  const points = list(v, path).map((p, k) => point(p, `${path}[${k}]`));
  if (points.length < 3) return no(path, `a polygon has three points or more, found ${points.length}`);
  const twin = points.findIndex((p, k) => {
    const next = points[(k + 1) % points.length];
    return p[0] === next[0] && p[1] === next[1];
  });
  if (twin >= 0)
    return no(path, `point ${twin} and the one after it are the same (the last is not repeated)`);
  const made = Float64Array.from(points.flat());
  const crossing = selfCrossings(made)[0];
  return crossing ? no(path, `the polygon crosses itself at (${crossing[0]}, ${crossing[1]}) m`) : made;
}

/** No loss is told in a case: its modes are real. */
const lossless = { L: 0, R: 0, LR: 0, transverse: 0 };

function sheet(v: unknown, path: string): PlyMaterial {
  const m = object(v, path);
  const kind = oneOf(m["kind"], ["isotropic", "orthotropic"], `${path}.kind`);
  const density = positive(m["rho"], `${path}.rho`);
  if (kind === "isotropic") {
    const E = positive(m["E"], `${path}.E`);
    const nu = number(m["nu"], `${path}.nu`);
    if (!(nu > -1 && nu < 0.5)) no(`${path}.nu`, `must lie between -1 and 0.5, found ${nu}`);
    const G = E / (2 * (1 + nu));
    return { density, EL: E, ER: E, nuLR: nu, GLR: G, GLT: G, GRT: G, loss: lossless };
  }
  const of = (key: string): number => positive(m[key], `${path}.${key}`);
  const made = {
    density,
    EL: of("EL"),
    ER: of("ER"),
    GLR: of("GLR"),
    GLT: of("GLT"),
    GRT: of("GRT"),
    loss: lossless,
  };
  const nuLR = number(m["nuLR"], `${path}.nuLR`);
  if (nuLR * nuLR * made.ER >= made.EL)
    no(`${path}.nuLR`, `nuLR2 ER / EL must be below 1, found nuLR ${nuLR}`);
  return { ...made, nuLR };
}

function ribMaterial(v: unknown, path: string): RibMaterial {
  const m = object(v, path);
  if (oneOf(m["kind"], ["orthotropic_axis", "isotropic"], `${path}.kind`) === "isotropic") {
    const { density, EL, GLR } = sheet(v, path);
    return { density, EL, G: GLR, ET: EL };
  }
  const solid = m["solid_only"] === undefined ? {} : object(m["solid_only"], `${path}.solid_only`);
  const ET = solid["ET"];
  return {
    density: positive(m["rho"], `${path}.rho`),
    EL: positive(m["EL"], `${path}.EL`),
    G: positive(m["G"], `${path}.G`),
    ...(ET === undefined ? {} : { ET: positive(ET, `${path}.solid_only.ET`) }),
  };
}

function rib(v: unknown, path: string): PanelRib {
  const b = object(v, path);
  const from = point(b["from"], `${path}.from`);
  const to = point(b["to"], `${path}.to`);
  if (from[0] === to[0] && from[1] === to[1]) no(path, "its two ends are the same point");
  const heights = list(b["heights"], `${path}.heights`, 1000).map((h, k): readonly [number, number] => {
    const [s, height] = point(h, `${path}.heights[${k}]`);
    if (s < 0 || s > 1) no(`${path}.heights[${k}][0]`, `must lie between 0 and 1, found ${s}`);
    // an end may run out to nothing
    return [s, height === 0 && (s === 0 || s === 1) ? 0 : positive(height, `${path}.heights[${k}][1]`)];
  });
  if (heights.length === 0) no(`${path}.heights`, "is empty");
  if (heights.every(([, h]) => h === 0)) no(`${path}.heights`, "is zero all along");
  for (let k = 1; k < heights.length; k++) {
    if (heights[k][0] < heights[k - 1][0]) no(`${path}.heights[${k}][0]`, "stations must not go back");
    if (heights[k][1] === 0 && heights[k - 1][1] === 0)
      no(`${path}.heights[${k}][1]`, "a rib of no height between two stations");
  }
  return {
    path: Float64Array.of(...from, ...to),
    width: positive(b["width"], `${path}.width`),
    heights,
    side: b["side"] === undefined ? "inside" : oneOf<Side>(b["side"], ["inside", "outside"], `${path}.side`),
    material: ribMaterial(b["material"], `${path}.material`),
  };
}

function patch(v: unknown, path: string): PanelPatch {
  const p = object(v, path);
  return {
    polygon: polygon(p["polygon"], `${path}.polygon`),
    thickness: positive(p["thickness"], `${path}.thickness`),
    wood: sheet(p["material"], `${path}.material`),
    grainAngle: (number(p["grain_angle_deg"] ?? 0, `${path}.grain_angle_deg`) * Math.PI) / 180,
    side: oneOf(p["face"] ?? "outer", ["outer", "inner"], `${path}.face`) === "outer" ? "outside" : "inside",
  };
}

function readPanel(v: unknown, path: string): Panel {
  const p = object(v, path);
  const outline = polygon(p["outline"], `${path}.outline`);
  const [x0, y0, x1, y1] = polygonBounds(outline);
  const span = Math.hypot(x1 - x0, y1 - y0);
  const radius = p["dome_radius"] ?? null;
  const inside = (x: number, y: number, at: string): void => {
    if (!pointInPolygon(outline, x, y) && distanceToPolyline(outline, x, y, true) > span * 1e-6)
      no(at, `(${x}, ${y}) m lies outside the outline`);
  };
  const holes = list(p["holes"] ?? [], `${path}.holes`, 100).map((h, k) => polygon(h, `${path}.holes[${k}]`));
  holes.forEach((hole, k) => {
    for (let i = 0; i < hole.length; i += 2) inside(hole[i], hole[i + 1], `${path}.holes[${k}][${i / 2}]`);
  });
  const ribs = list(p["braces"] ?? [], `${path}.braces`, 500).map((b, k) => rib(b, `${path}.braces[${k}]`));
  ribs.forEach((r, k) => {
    inside(r.path[0], r.path[1], `${path}.braces[${k}].from`);
    inside(r.path[2], r.path[3], `${path}.braces[${k}].to`);
  });
  const kind = oneOf(p["edge"], ["free", "hinged", "clamped"], `${path}.edge`);
  const edge: EdgeSupport = { kind };
  const dome =
    radius === null
      ? null
      : { radius: positive(radius, `${path}.dome_radius`), apex: point(p["dome_apex"], `${path}.dome_apex`) };
  if (dome !== null) {
    for (let i = 0; i < outline.length; i += 2) {
      if (Math.hypot(outline[i] - dome.apex[0], outline[i + 1] - dome.apex[1]) > 0.7 * dome.radius) {
        no(
          `${path}.dome_radius`,
          `too small for the outline: a shallow dome reaches at most 0.7 radii from its apex`,
        );
      }
    }
  }
  return {
    outline,
    holes,
    dome,
    wood: sheet(p["material"], `${path}.material`),
    thickness: positive(p["thickness"], `${path}.thickness`),
    grainAngle: (number(p["grain_angle_deg"] ?? 0, `${path}.grain_angle_deg`) * Math.PI) / 180,
    ribs,
    patches: list(p["plates"] ?? [], `${path}.plates`, 100).map((q, k) => patch(q, `${path}.plates[${k}]`)),
    film: null,
    edge,
  };
}

function load(v: unknown, path: string): PanelCaseLoad {
  const l = object(v, path);
  const of = (key: string): number => number(l[key] ?? 0, `${path}.${key}`);
  return {
    polygon: polygon(l["polygon"], `${path}.polygon`),
    Fx: of("Fx"),
    Fy: of("Fy"),
    Fz: of("Fz"),
    My: of("My"),
  };
}

/** Reads a panel case, already parsed from JSON. Fails with 'bad-case': the path of the first fault and what is wanted. */
export function readPanelCase(json: unknown): Outcome<PanelCase> {
  try {
    const c = object(json, "case");
    const analysis = oneOf(c["analysis"], ["modes", "static"], "analysis");
    const panel = readPanel(c["panel"], "panel");
    if (analysis === "static" && panel.edge.kind === "free")
      no("panel.edge", "a static case needs its edge held, found free");
    const count = analysis === "modes" ? positive(c["n_modes"] ?? 20, "n_modes") : 0;
    if (!Number.isInteger(count) || count > 500)
      no("n_modes", `a whole number up to 500 is wanted, found ${count}`);
    const points = Object.entries(object(c["points"] ?? {}, "points")).map(
      ([name, p]) => [name, point(p, `points.${name}`)] as const,
    );
    return done({
      id: typeof c["id"] === "string" ? c["id"] : "",
      panel,
      analysis,
      modeCount: count,
      loads: list(c["loads"] ?? [], "loads", 100).map((l, k) => load(l, `loads[${k}]`)),
      points: Object.fromEntries(points),
    });
  } catch (fault) {
    if (fault instanceof Fault) return failed("bad-case", fault.message);
    throw fault;
  }
}
