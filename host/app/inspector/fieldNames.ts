/** Names of fields as the trade says them, where the key alone does not. By the end of the path, without indices. */
const names: Readonly<Record<string, string>> = {
  brief: "Brief",
  "brief.due": "Promised for",
  "brief.approved": "Client's approval",
  "brief.approved.by": "Approved by",
  hand: "Hand of the player",
  "strings.set": "String set",
  "strings.scale": "Scale",
  "scale.bass": "Lowest string",
  "scale.treble": "Highest string",
  squareFret: "Square fret",
  spreadAtNut: "Outer strings apart, nut",
  spreadAtSaddle: "Outer strings apart, saddle",
  spacing: "Equal from string to string",
  action: "Action at fret 12",
  "action.bass": "Lowest string",
  "action.treble": "Highest string",
  pluckPlace: "Plucking place",
  tuningReference: "Pitch of A4",
  tuningName: "Name of this tuning",
  tunings: "Other tunings",
  unitWeight: "Mass per length",
  coreShape: "Section of the core",
  coreMaterial: "Core drawn from",
  wraps: "Wraps, innermost first",
  joinFret: "Joining fret",
  centreFromBody: "Centre of mass",
  "neck.mass": "Mass of the neck",
  "neck.thickness": "Depth of the neck",
  "thickness.first": "Fret 1",
  "thickness.ninth": "Fret 9",
  "neck.profile": "Back of the neck",
  "neck.rods": "Rods in the neck",
  jointNote: "About the joint",
  stringPath: "Path to the posts",
  "head.posts": "Posts, string 1 first",
  faceVeneer: "Veneer on the face",
  axisDepth: "Middle under the board",
  frets: "Number of frets",
  widthAtNut: "Width at the nut",
  widthAtEnd: "Width at the last fret",
  "fingerboard.radius": "Cross curvature",
  "radius.nut": "At the nut",
  "radius.end": "At the last fret",
  heightOverTop: "Board over the top",
  overTop: "Over the body",
  fallAway: "Fall-away",
  fromFret: "Beyond fret",
  "fingerboard.slot": "Fret slots",
  tangWidth: "Width of the tang",
  tangDepth: "Depth of the tang",
  nip: "Tang cut short by",
  centsTable: "Cents, fret 1 first",
  station: "From the tail",
  tailRadius: "Radius at the tail",
  neckRadius: "Radius at the neck end",
  asymmetry: "One side unlike the other",
  "asymmetry.bass": "Bass side",
  "asymmetry.treble": "Treble side",
  "cutaway.side": "Side that is cut away",
  tipSetback: "Horn, back from the neck end",
  tipRadius: "Radius of the horn's tip",
  neckOffset: "Edge at the neck line",
  neckAngle: "Angle beside the neck",
  cornerRadius: "Corner on the neck line",
  scoopRadius: "Radius inside the scoop",
  soundHole: "Sound hole",
  "soundHole.lip": "Lip",
  semiAxes: "Half axes",
  grainAngle: "Grain",
  join: "Joint of the halves",
  crossings: "Crossings",
  "hub.braces": "Braces that end here",
  "plate.braces": "Braces",
  patches: "Patches",
  from: "Start",
  to: "End",
  inset: "Short of the edge by",
  ends: "End details",
  tipHeight: "Height at the tips",
  tipLength: "Length of the scoops",
  valleyAt: "Lowest place at",
  valleyHeight: "Height in the valley",
  valleyLength: "Length of the valley",
  heights: "Heights along it",
  wall: "Upright walls",
  depthAtTail: "Depth at the tail",
  depthAtNeck: "Depth at the neck",
  plies: "Plies, outside first",
  topLining: "Lining under the top",
  backLining: "Lining on the back",
  saddleFromFront: "Saddle from the front edge",
  hardwareMass: "Mass of saddle and pins",
  anchor: "Strings held by",
  anchorBehind: "Anchor behind the saddle",
  glueLand: "Glued share",
  bridgePlate: "Bridge plate",
  heightBass: "Height, lowest string",
  heightTreble: "Height, highest string",
  slotDepth: "Depth of the slot",
  "nut.width": "Size along the string",
  clearance: "Clearance over the frets",
  "clearance.bass": "Lowest string",
  "clearance.treble": "Highest string",
  "setup.pluck": "Strength of the pluck",
  "setup.finger": "Finger on the string",
  "finger.behind": "Behind the fret",
  "setup.measured": "Measured cents",
  "setup.weights": "How much each fret counts, fret 1 first",
  "blocks.others": "Further blocks",
  rods: "Rods in the body",
  "rods.stiffness": "Stiffness along it",
  "finish.top": "Film on the top",
  "finish.back": "Film on the back",
  "finish.sides": "Film on the sides",
  cure: "Rest before the bridge",
  glue: "Glues",
  "bridge.glue": "Glue under the bridge",
  massEach: "Mass of one",
  endPin: "End pin",
  strapButton: "Strap button",
  guard: "Guard plate",
  homeDry: "Home at its driest",
  homeDamp: "Home at its dampest",
  hotCar: "Closed car",
  mainAir: "Main air mode",
  mainTop: "Main top mode",
  mainBack: "Main back mode",
  "targets.mass": "Mass of the guitar",
  bridgeRotation: "Turn of the bridge",
  levelSpreadDb: "Spread of level",
  low: "Not below",
  high: "Not above",
  meant: "Verdicts that are meant",
  how: "Known by",
  "measured.how": "How it was measured",
  spread: "Spread",
  kind: "Kind",
  knockedAt: "Knocked at",
  heldAt: "Held",
  q: "Quality factor",
  stiffnessAlong: "Stiffness along the grain",
  stiffnessAcross: "Stiffness across the grain",
  shearInPlane: "Shear stiffness in the plane",
  shearAlongThrough: "Shear stiffness along, through",
  shearAcrossThrough: "Rolling shear stiffness",
  poisson: "Poisson's ratio",
  lossAlong: "Loss along the grain",
  lossAcross: "Loss across the grain",
  lossShear: "Loss in shear",
  lossThrough: "Loss in shear, through",
  ringAngle: "Rings off quarter",
  format: "Format",
  $schema: "Schema for editors",
};

/** What a list's entries are called, one by one. */
const entries: Readonly<Record<string, string>> = {
  papers: "paper",
  set: "string",
  wraps: "wrap",
  tunings: "tuning",
  notes: "string",
  posts: "string",
  rods: "rod",
  centsTable: "fret",
  weights: "fret",
  points: "point",
  plies: "ply",
  others: "block",
  braces: "brace",
  crossings: "crossing",
  patches: "patch",
  spots: "spot",
  heights: "height",
  measured: "reading",
  meant: "verdict",
  log: "entry",
  modes: "mode",
};

/** Name of a field from the keys that lead to it (indices left out): its own key, and the one before it where that matters. */
export function fieldName(keys: readonly string[]): string {
  const key = keys.at(-1) ?? "";
  const before = keys.at(-2);
  return (before === undefined ? undefined : names[`${before}.${key}`]) ?? names[key] ?? spoken(key);
}

/** "brace 3", "string 1". */
export function entryName(listKey: string, index: number): string {
  return `${entryWord(listKey)} ${index + 1}`;
}

export function entryWord(listKey: string): string {
  return entries[listKey] ?? "entry";
}

/** Two values in a row, named each: a place, two ends, two halves. */
export function rowNames(key: string, about: string): readonly [string, string] {
  if (/at the start, at the end/.test(about)) return ["at the start", "at the end"];
  if (key === "semiAxes") return ["first axis", "second axis"];
  if (key === "posts") return ["along the head", "towards the bass side"];
  if (key === "heights") return ["distance", "height"];
  if (key === "braces") return ["one brace", "the other"];
  if (/from the tail/.test(about)) return ["from the tail", "towards the bass side"];
  return ["first", "second"];
}

/** A word of the document as it is shown: "let-in" is "let in". */
export function shownWord(word: string): string {
  return word.replaceAll("-", " ");
}

function spoken(key: string): string {
  const words = key.replace(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`);
  return words.charAt(0).toUpperCase() + words.slice(1);
}
