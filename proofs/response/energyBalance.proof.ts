/** Where the string's power goes in the coupled structure: every loss from its own formula, against force times velocity. */
import { opened, quiet } from "#engine/numerics";
import { coupleStructure, forcedStructure } from "#engine/response";
import { proof } from "#proofs/harness";
import { wholeBox } from "../../engine/response/wholeBox.fixture.ts";

const parts = wholeBox();
const body = opened(coupleStructure(parts, quiet));
const at = (name: string) => body.frequency[body.name.indexOf(name as "main air")];
// Off resonance, on the named ones, between two of them, and on the closest pair below 1 kHz.
const gaps = Array.from(body.frequency.slice(1)).map((f, i) => f / body.frequency[i]);
const close = gaps.indexOf(Math.min(...gaps.slice(0, 14)));
const frequencies = [
  50,
  at("main air"),
  150,
  at("main top"),
  at("main back"),
  330,
  at("cavity, lengthwise"),
  body.frequency[close],
  body.frequency[close + 1],
  900,
];

/** Far field of the net flow as a small source: intensity over a sphere. */
function farField(flow: { readonly re: Float64Array; readonly im: Float64Array }, omega: number): number {
  const net = (part: Float64Array) => part.reduce((sum, v) => sum + v, 0);
  const { density, soundSpeed } = parts.air;
  const pressure = (density * omega * Math.hypot(net(flow.re), net(flow.im))) / (4 * Math.PI);
  return (4 * Math.PI * pressure ** 2) / (2 * density * soundSpeed);
}

proof(
  "wood + hole + leak + walls' heat and friction + far-field power = input, on and off resonance, along all three directions",
  {
    source: "CLOSED-FORM conservation of energy",
    quoted: frequencies.flatMap(() => [1, 1, 1]),
    relTol: 1e-9,
    because: "each term has a formula of its own; only rounding of the solution is left",
    mustNotice: { radiated: 1.01, wood: 1.01, hole: 1.05, leak: 1.5, heat: 1.05, friction: 1.05 },
  },
  (slip) =>
    frequencies.flatMap((f) =>
      [0, 1, 2].map((direction) => {
        const { power, flow } = opened(forcedStructure(parts, direction, 2 * Math.PI * f));
        const lost =
          power.wood * (slip.wood ?? 1) +
          power.hole * (slip.hole ?? 1) +
          power.leak * (slip.leak ?? 1) +
          power.heat * (slip.heat ?? 1) +
          power.friction * (slip.friction ?? 1) +
          farField(flow, 2 * Math.PI * f) * (slip.radiated ?? 1);
        return lost / power.input;
      }),
    ),
);

proof(
  "modal Q and loss shares of the main modes agree with the power balance of the full equations at their frequency",
  {
    source: "CLOSED-FORM shares of power on resonance",
    quoted: ["main air", "main top"].flatMap((name) => {
      const { power } = opened(forcedStructure(parts, 0, 2 * Math.PI * at(name)));
      return [power.wood, power.hole + power.leak + power.heat + power.friction, power.radiated].map(
        (p) => p / power.input,
      );
    }),
    absTol: 0.04,
    because: "on resonance the mode holds all but a few per cent of the power; its neighbours hold the rest",
    mustNotice: { swap: -1 },
  },
  (slip) =>
    ["main air", "main top"].flatMap((name) => {
      const i = body.name.indexOf(name as "main air");
      const share = Array.from(body.lossShare.slice(3 * i, 3 * i + 3));
      return slip.swap === -1 ? share.reverse() : share;
    }),
);
