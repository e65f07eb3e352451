/**
 * Writes the CalculiX deck of a body case: node deck.mjs CASE.json SIZE > CASE.inp (SIZE: largest edge, m).
 * Quadratic bricks (C3D20R), one through each wall; every plane of a wall, lining and hole is a plane of the grid.
 * Springs of 0.3 N/m at eight corners keep the free box from drifting (its rigid modes come out near 1 Hz).
 */
import { readFileSync } from "node:fs";

const box = JSON.parse(readFileSync(process.argv[2], "utf8")).box;
const size = Number(process.argv[3]);
const [L, W, H] = box.outer;
const { top, back, side, lining, hole, block } = box;

/** Grid lines through all given places, even between them. */
function lines(places) {
  const sorted = [...new Set(places.map((v) => Math.round(v * 1e7) / 1e7))].sort((a, b) => a - b);
  const out = [sorted[0]];
  for (let k = 1; k < sorted.length; k++) {
    const n = Math.max(1, Math.ceil((sorted[k] - sorted[k - 1]) / size - 1e-9));
    for (let i = 1; i <= n; i++) out.push(sorted[k - 1] + ((sorted[k] - sorted[k - 1]) * i) / n);
  }
  return out;
}
const w = lining ? lining.width : 0;
const h = lining ? lining.height : 0;
const t = side.thickness;
const xs = lines([0, t, t + w, L - t - w, L - t, L, ...(hole ? [hole[0], hole[1]] : []), ...(block ? [block.x[0], block.x[1]] : [])]);
const ys = lines([0, t, t + w, W - t - w, W - t, W, ...(hole ? [hole[2], hole[3]] : []), ...(block ? [block.y[0], block.y[1]] : [])]);
// z from the back's outside upwards
const zs = lines([0, back.thickness, back.thickness + h, H - top.thickness - h, H - top.thickness, H]);

/** Set of a cell by its middle, or null where there is nothing. */
function cell(x, y, z) {
  if (z > H - top.thickness) {
    const open = hole && x > hole[0] && x < hole[1] && y > hole[2] && y < hole[3];
    return open ? null : "TOP";
  }
  if (z < back.thickness) return "BACK";
  if (y < t || y > W - t) return "SIDEX";
  if (x < t || x > L - t) return "SIDEY";
  if (block && x > block.x[0] && x < block.x[1] && y > block.y[0] && y < block.y[1]) return "BLOCK";
  if (lining && (z < back.thickness + h || z > H - top.thickness - h)) {
    if (y < t + w || y > W - t - w) return "LININGX";
    if (x < t + w || x > L - t - w) return "LININGY";
  }
  return null;
}

const names = new Map();
const nodes = [];
// half-step grid: indices 2i on the lines, 2i + 1 between
const place = (v, i) => (i % 2 === 0 ? v[i / 2] : (v[(i - 1) / 2] + v[(i + 1) / 2]) / 2);
function node(i, j, k) {
  const key = `${i},${j},${k}`;
  let n = names.get(key);
  if (n === undefined) {
    n = nodes.push([place(xs, i), place(ys, j), place(zs, k)]);
    names.set(key, n);
  }
  return n;
}
// C3D20: corners below, corners above, mid-sides below, mid-sides above, mid-sides upright
const corners = [
  [0, 0, 0], [2, 0, 0], [2, 2, 0], [0, 2, 0], [0, 0, 2], [2, 0, 2], [2, 2, 2], [0, 2, 2],
  [1, 0, 0], [2, 1, 0], [1, 2, 0], [0, 1, 0], [1, 0, 2], [2, 1, 2], [1, 2, 2], [0, 1, 2],
  [0, 0, 1], [2, 0, 1], [2, 2, 1], [0, 2, 1],
];
const sets = new Map();
for (let i = 0; i + 1 < xs.length; i++) {
  for (let j = 0; j + 1 < ys.length; j++) {
    for (let k = 0; k + 1 < zs.length; k++) {
      const set = cell((xs[i] + xs[i + 1]) / 2, (ys[j] + ys[j + 1]) / 2, (zs[k] + zs[k + 1]) / 2);
      if (set === null) continue;
      if (!sets.has(set)) sets.set(set, []);
      sets.get(set).push(corners.map(([a, b, c]) => node(2 * i + a, 2 * j + b, 2 * k + c)));
    }
  }
}
const out = ["*NODE, NSET=ALL"];
nodes.forEach((p, n) => out.push(`${n + 1}, ${p.map((v) => v.toPrecision(12)).join(", ")}`));
let element = 0;
const orientation = {
  TOP: "1,0,0, 0,1,0", BACK: "1,0,0, 0,1,0",
  // grain along the edge, R upwards
  SIDEX: "1,0,0, 0,0,1", SIDEY: "0,1,0, 0,0,1", LININGX: "1,0,0, 0,0,1", LININGY: "0,1,0, 0,0,1",
  BLOCK: "0,0,1, 1,0,0",
};
const wood = { TOP: top.wood, BACK: back.wood, SIDEX: side.wood, SIDEY: side.wood, LININGX: lining?.wood, LININGY: lining?.wood, BLOCK: block?.wood };
for (const [set, list] of sets) {
  out.push(`*ELEMENT, TYPE=C3D20R, ELSET=${set}`);
  for (const e of list) {
    out.push(`${++element}, ${e.slice(0, 15).join(", ")},`, e.slice(15).join(", "));
  }
  const m = wood[set];
  out.push(
    `*ORIENTATION, NAME=O${set}`, orientation[set],
    `*MATERIAL, NAME=M${set}`, "*ELASTIC, TYPE=ENGINEERING CONSTANTS",
    `${m.EL}, ${m.ER}, ${m.ET}, ${m.nuLR}, ${m.nuLT}, ${m.nuRT}, ${m.GLR}, ${m.GLT},`, `${m.GRT}`,
    "*DENSITY", `${m.density}`,
    `*SOLID SECTION, ELSET=${set}, MATERIAL=M${set}, ORIENTATION=O${set}`,
  );
}
const at = [0, xs.length - 1].flatMap((i) => [0, ys.length - 1].flatMap((j) => [0, zs.length - 1].map((k) => names.get(`${2 * i},${2 * j},${2 * k}`))));
for (const d of [1, 2, 3]) {
  out.push(`*ELEMENT, TYPE=SPRING1, ELSET=HANG${d}`);
  for (const n of at) out.push(`${++element}, ${n}`);
  out.push(`*SPRING, ELSET=HANG${d}`, `${d}`, "0.3");
}
out.push("*STEP", "*FREQUENCY", `${6 + 24}`, "*END STEP");
process.stdout.write(`${out.join("\n")}\n`);
process.stderr.write(`${nodes.length} nodes, ${element} elements\n`);
