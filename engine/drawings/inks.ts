/**
 * The inks a drawing may use, by what they are for. The page gives each its colour by day and by night; no drawing knows
 * a colour. Motion tints run from faint (1) to strong (4) on both sides of the rest position.
 */
export type Ink =
  | "ink"
  | "soft"
  | "faint"
  | "accent"
  | "paper"
  | "spruce"
  | "brace"
  | "rosewood"
  | `out${1 | 2 | 3 | 4}`
  | `in${1 | 2 | 3 | 4}`;

type Sheet = Readonly<Record<Ink, string>>;

/**
 * By day: warm white drawing paper, blue-black ink, red pencil. The tints of motion are a brown to green-blue diverging
 * scale, which readers with any common colour blindness can tell apart; sign marks and the nodal line say the same in
 * ink. Contrast of the inks used for text (ink, soft, accent) on paper is at least 4.5 : 1, and a test holds it.
 */
export const day: Sheet = {
  ink: "#1c2530",
  soft: "#56606a",
  faint: "#b9b8ae",
  accent: "#b3321f",
  paper: "#fbfaf5",
  spruce: "#f1e4c6",
  brace: "#e2cd9d",
  rosewood: "#c49a74",
  out1: "#f3e2bf",
  out2: "#dfb978",
  out3: "#bd7f35",
  out4: "#8a4f12",
  in1: "#d3e8e4",
  in2: "#93c8c1",
  in3: "#469a92",
  in4: "#0d655f",
};

/** By night: the same sheet under a bench lamp in a dark shop. */
export const night: Sheet = {
  ink: "#ece6d8",
  soft: "#a9aaa2",
  faint: "#4a4f50",
  accent: "#ff8b6b",
  paper: "#15191b",
  spruce: "#2e2a20",
  brace: "#4a4029",
  rosewood: "#6b4c35",
  out1: "#3a2f1d",
  out2: "#6b4d22",
  out3: "#ab7630",
  out4: "#e8b767",
  in1: "#17302e",
  in2: "#22564f",
  in3: "#35897f",
  in4: "#77d2c6",
};

/** The sheet as CSS custom properties: "--ink: #1c2530; ...". */
export function inkProperties(sheet: Sheet): string {
  return Object.entries(sheet)
    .map(([ink, colour]) => `--${ink}: ${colour};`)
    .join(" ");
}

/** Rules that turn the classes of `svg` into those inks: s-… strokes, f-… fills. */
export function inkRules(): string {
  return Object.keys(day)
    .map((ink) => `.s-${ink}{stroke:var(--${ink})}.f-${ink}{fill:var(--${ink})}`)
    .join("");
}
