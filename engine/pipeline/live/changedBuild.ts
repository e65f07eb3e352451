import type { Build, BuildBrace, BuildPatch, BuildPlate } from "#engine/instrument";
import type { BodyPart } from "#engine/shells";

/** A build with one value changed, and the parts of the structure that feel it. */
export interface ChangedBuild {
  readonly build: Build;
  /** Empty: the structure does not feel it (a value of the air or of the strings). */
  readonly parts: readonly BodyPart[];
}

/** Keys of a wood in the document and in the build. */
const woodKeys: Readonly<Record<string, string>> = {
  density: "density",
  stiffnessAlong: "EL",
  stiffnessAcross: "ER",
  shearInPlane: "GLR",
  shearAlongThrough: "GLT",
  shearAcrossThrough: "GRT",
  poisson: "nuLR",
  lossAlong: "loss.L",
  lossAcross: "loss.R",
  lossShear: "loss.LR",
  lossThrough: "loss.transverse",
};

/**
 * The build with the value at a document path ("top.braces[3].height", "back.wood.stiffnessAlong", "finish.top",
 * "bridge.mass") multiplied by a factor; null where the path is none that this follows. Plans stay as they are.
 */
export function changedBuild(build: Build, path: string, factor: number): ChangedBuild | null {
  const plate = /^(top|back)\.(.+)$/.exec(path);
  if (plate !== null) {
    const which = plate[1] as "top" | "back";
    const changed = changedPlate(build[which], which, plate[2]!, factor);
    // the sides' height goes with the plates' thickness
    const parts: readonly BodyPart[] = plate[2] === "thickness" ? [which, "rim"] : [which];
    return changed === null ? null : { build: { ...build, [which]: changed }, parts };
  }
  const finish = /^finish\.(top|back|sides)$/.exec(path);
  if (finish !== null) {
    const which = finish[1] as "top" | "back" | "sides";
    const film = build[which].film;
    if (film === null) return null;
    const thicker = {
      ...film,
      thickness: film.thickness * factor,
      massPerArea: film.massPerArea * factor,
    };
    return {
      build: { ...build, [which]: { ...build[which], film: thicker } },
      parts: [which === "sides" ? "rim" : which],
    };
  }
  if (path.startsWith("sides.")) return changedSides(build, path.slice(6), factor);
  if (path === "neck.mass")
    return { build: { ...build, neck: { ...build.neck, mass: build.neck.mass * factor } }, parts: ["neck"] };
  if (path === "bridge.mass" || path === "bridge.thickness") {
    const { bridge } = build;
    const patches = bridge.patches.map((p): BuildPatch => {
      if (path === "bridge.thickness") return { ...p, thickness: p.thickness * factor };
      // what the bridge carries beyond its wood stays
      const share = bridge.mass > 0 ? (bridge.mass - bridge.addedMass) / bridge.mass : 0;
      return { ...p, wood: { ...p.wood, density: p.wood.density * (1 + share * (factor - 1)) } };
    });
    return { build: { ...build, bridge: { ...bridge, patches } }, parts: ["top"] };
  }
  const rod = /^rods\[(\d+)\]\.stiffness$/.exec(path);
  if (rod !== null) {
    const at = Number(rod[1]);
    if (build.rods[at] === undefined) return null;
    const rods = build.rods.map((r, i) => (i === at ? { ...r, stiffness: r.stiffness * factor } : r));
    return { build: { ...build, rods }, parts: ["rim"] };
  }
  return null;
}

function changedPlate(plate: BuildPlate, which: string, rest: string, factor: number): BuildPlate | null {
  if (rest === "thickness") {
    const t = plate.thickness;
    return {
      ...plate,
      meanThickness: plate.meanThickness * factor,
      thickness:
        t.kind === "uniform"
          ? { ...t, thickness: t.thickness * factor }
          : { ...t, spots: t.spots.map((v, i) => (i % 3 === 2 ? v * factor : v)) },
    };
  }
  const wood = /^wood\.(\w+)$/.exec(rest);
  if (wood !== null) {
    const changed = changedWood(plate.wood, wood[1]!, factor);
    return changed === null ? null : { ...plate, wood: changed };
  }
  const brace = /^braces\[(\d+)\]\.(height|width|wood\.\w+)$/.exec(rest);
  if (brace === null) return null;
  const path = `${which}.braces[${brace[1]}]`;
  if (!plate.braces.some((b) => b.documentPath === path)) return null;
  let known = true;
  const braces = plate.braces.map((b): BuildBrace => {
    if (b.documentPath !== path) return b;
    if (brace[2] === "height") return { ...b, heights: b.heights.map(([s, h]) => [s, h * factor] as const) };
    if (brace[2] === "width") return { ...b, width: b.width * factor };
    const changed = changedWood(b.wood, brace[2]!.slice(5), factor);
    if (changed === null) known = false;
    return changed === null ? b : { ...b, wood: changed };
  });
  return known ? { ...plate, braces } : null;
}

function changedWood(wood: BuildPlate["wood"], key: string, factor: number): BuildPlate["wood"] | null {
  const own = woodKeys[key];
  if (own === undefined) return null;
  if (own.startsWith("loss.")) {
    const at = own.slice(5) as keyof typeof wood.loss;
    return { ...wood, loss: { ...wood.loss, [at]: wood.loss[at] * factor } };
  }
  const at = own as Exclude<keyof typeof wood, "loss">;
  return { ...wood, [at]: wood[at] * factor };
}

function changedSides(build: Build, rest: string, factor: number): ChangedBuild | null {
  const { sides } = build;
  if (rest === "thickness") {
    const plies = sides.plies.map((p) => ({ ...p, thickness: p.thickness * factor }));
    return {
      build: { ...build, sides: { ...sides, plies, thickness: sides.thickness * factor } },
      parts: ["rim"],
    };
  }
  const wood = /^wood\.(\w+)$/.exec(rest);
  const changed = wood === null ? null : changedWood(sides.wood, wood[1]!, factor);
  if (changed === null) return null;
  const own = JSON.stringify(sides.wood);
  const plies = sides.plies.map((p) => (JSON.stringify(p.wood) === own ? { ...p, wood: changed } : p));
  return { build: { ...build, sides: { ...sides, wood: changed, plies } }, parts: ["rim"] };
}
