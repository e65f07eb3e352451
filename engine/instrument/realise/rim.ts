import { type BodyPlan, polygonPerimeter, polylineLength } from "#engine/geometry";
import { formatQuantity } from "#engine/units";
import type { BuildLining, BuildRod, BuildSides, RimPart } from "../build.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { realiseFilm } from "./plate.ts";
import { kilograms, type Ledger, metres, point, si, type Typed, uncertain, usualSpread } from "./reading.ts";
import { realiseWood } from "./wood.ts";

/** Sides and linings. */
export function realiseSides(document: InstrumentDocument, ledger: Ledger): BuildSides {
  const { sides } = document;
  const wood = realiseWood(sides.wood, "sides.wood", "sides.wood", "brace", ledger);
  const thickness = uncertain(
    sides.thickness as Typed<string>,
    "length",
    usualSpread.plateThickness,
    "sides.thickness",
    "sides.thickness",
    ledger,
  );
  const plies = (sides.plies ?? []).map((ply, i) => ({
    wood: realiseWood(ply.wood, `sides.plies[${i}].wood`, `sides.plies[${i}].wood`, "none", ledger),
    thickness: metres(ply.thickness),
  }));
  const laid = plies.reduce((sum, ply) => sum + ply.thickness, 0);
  if (plies.length > 0 && Math.abs(laid - thickness) > 0.15 * thickness) {
    ledger.issues.push({
      code: "plies-do-not-add-up",
      path: "sides.plies",
      message: `The plies are ${formatQuantity(laid, "mm", 2)} together, but the finished side is ${formatQuantity(thickness, "mm", 2)}.`,
      allowed: "plies that add up to the side within 15 % (sanding takes some)",
      severity: "stop",
    });
  }
  const lining = (which: "topLining" | "backLining"): BuildLining => ({
    kind: sides[which].kind,
    width: metres(sides[which].width),
    height: metres(sides[which].height),
    wood: realiseWood(sides[which].wood, `sides.${which}.wood`, `sides.${which}.wood`, "none", ledger),
  });
  return {
    wood,
    thickness,
    plies: plies.length > 0 ? plies : [{ wood, thickness }],
    film: realiseFilm(document.finish, "sides", ledger),
    topLining: lining("topLining"),
    backLining: lining("backLining"),
  };
}

/** Rods inside the body. */
export function realiseRods(document: InstrumentDocument, ledger: Ledger): BuildRod[] {
  return (document.rods ?? []).map((rod, i) => {
    const end = (spot: typeof rod.from): readonly [number, number, number] => [
      ...point(spot.at),
      -metres(spot.depth),
    ];
    const diameter = metres(rod.diameter);
    const bore = metres(rod.bore);
    if (bore >= diameter) {
      ledger.issues.push({
        code: "no-wall",
        path: `rods[${i}].bore`,
        message: "The bore leaves no wall.",
        found: JSON.stringify(rod.bore),
        allowed: `less than the diameter of ${rod.diameter}`,
        severity: "stop",
      });
    }
    return {
      from: end(rod.from),
      to: end(rod.to),
      diameter,
      bore,
      stiffness: uncertain(
        rod.stiffness as Typed<string>,
        "stress",
        usualSpread.rodStiffness,
        `rods[${i}].stiffness`,
        `rods[${i}].stiffness`,
        ledger,
      ),
      density: si(rod.density, "density"),
    };
  });
}

/** Share of a kerfed lining's section that is left by its kerfs (common practice: kerfs 1 mm wide every 6 mm). */
const kerfedShare = 0.85;

/** Volume of both linings, m3; the top's is interrupted where the hole opens the edge. */
export function liningVolume(sides: BuildSides, plan: BodyPlan): number {
  const perimeter = polygonPerimeter(plan.outlinePolygon);
  const open = plan.openEdge.reduce((sum, line) => sum + polylineLength(line), 0);
  const of = (lining: BuildLining, length: number): number =>
    length * lining.width * lining.height * (lining.kind === "kerfed" ? kerfedShare : 1);
  return of(sides.topLining, perimeter - open) + of(sides.backLining, perimeter);
}

type Triple = readonly [number, number, number];

/** Blocks, neck, rods and fittings that ride on the rim. Heights run downwards from the plane of the top's edge. */
export function realiseRimParts(
  document: InstrumentDocument,
  plan: BodyPlan,
  rods: readonly BuildRod[],
  ledger: Ledger,
): RimPart[] {
  const { blocks, neck, fittings } = document;
  const length = plan.length;
  const parts: RimPart[] = [];
  const block = (name: string, entry: typeof blocks.neck, path: string, x: number, y: number): void => {
    const size: Triple = [metres(entry.along), metres(entry.across), metres(entry.height)];
    const volume = size[0] * size[1] * size[2];
    const wood = realiseWood(entry.wood, `${path}.wood`, `${path}.wood`, "none", ledger);
    parts.push({
      name,
      mass: wood.density * volume,
      centre: [x, y, -size[2] / 2],
      size,
      volumeInside: volume,
      kind: "block",
    });
  };
  block("neck block", blocks.neck, "blocks.neck", length - metres(blocks.neck.along) / 2, 0);
  block("tail block", blocks.tail, "blocks.tail", metres(blocks.tail.along) / 2, 0);
  (blocks.others ?? []).forEach((other, i) => {
    const [x, y] = point(other.centre);
    block(other.name, other, `blocks.others[${i}]`, x, y);
  });

  const neckMass = uncertain(
    neck.mass as Typed<string>,
    "mass",
    usualSpread.mass,
    "neck.mass",
    "neck.mass",
    ledger,
  );
  const reach = metres(neck.centreFromBody);
  const deep = metres(neck.thickness.ninth);
  // A bar as long as twice the distance to its centre: its own inertia about that centre is nearly the neck's.
  const size: Triple = [2 * reach, metres(document.fingerboard.widthAtEnd), deep];
  parts.push({
    name: "neck",
    mass: neckMass,
    centre: [length + reach, 0, -deep / 4],
    size,
    volumeInside: 0,
    kind: "neck",
  });

  const small = (name: string, mass: number, centre: Triple): void => {
    if (mass > 0) parts.push({ name, mass, centre, size: [0, 0, 0], volumeInside: 0, kind: "fitting" });
  };
  const headAt = length + 2 * reach - metres(neck.head?.length ?? "180 mm") / 2;
  small("tuners", fittings.tuners.count * kilograms(fittings.tuners.massEach), [headAt, 0, -0.03]);
  const tailDepth = metres(document.sides.depthAtTail) / 2;
  small("end pin", fittings.endPin === undefined ? 0 : kilograms(fittings.endPin.mass), [0, 0, -tailDepth]);
  small("strap button", fittings.strapButton === undefined ? 0 : kilograms(fittings.strapButton.mass), [
    length,
    0,
    -0.05,
  ]);
  const pickup = fittings.pickup;
  if (pickup !== undefined && (pickup.where === "side" || pickup.where === "tail")) {
    const at: Triple = pickup.where === "tail" ? [0.02, 0, -tailDepth] : [0.75 * length, 0.12, -tailDepth];
    small("pickup", kilograms(pickup.mass), at);
  }
  rods.forEach((rod, i) => {
    const [from, to] = [rod.from, rod.to];
    const span: Triple = [Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1]), Math.abs(to[2] - from[2])];
    const run = Math.hypot(...span);
    const area = (Math.PI / 4) * (rod.diameter ** 2 - rod.bore ** 2);
    const hull = (Math.PI / 4) * rod.diameter ** 2;
    const centre: Triple = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2, (from[2] + to[2]) / 2];
    parts.push({
      name: `rod ${i + 1}`,
      mass: rod.density * area * run,
      centre,
      size: span,
      volumeInside: hull * run,
      kind: "rod",
    });
  });
  return parts;
}
