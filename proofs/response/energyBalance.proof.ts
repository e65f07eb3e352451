/** Where the string's power goes: every loss from its own formula, against force times velocity. */
import { opened, quiet } from "#engine/numerics";
import { coupleBody, forcedResponse } from "#engine/response";
import { proof } from "#proofs/harness";
import { boxBody } from "../../engine/response/body.fixture.ts";

const body = opened(coupleBody(boxBody(), quiet));
const at = (name: string) => body.frequency[body.name.indexOf(name as "main air")];
// Off resonance, on the three main ones, between two of them (an antiresonance is near), and on the closest pair below 1 kHz.
const gaps = Array.from(body.frequency.slice(1)).map((f, i) => f / body.frequency[i]);
const close = gaps.indexOf(Math.min(...gaps.slice(0, 12)));
const frequencies = [
  50,
  at("main air"),
  150,
  at("main top"),
  at("main back"),
  330,
  body.frequency[close],
  body.frequency[close + 1],
  900,
];

proof(
  "wood + hole friction + leak + wall heat + far-field power = input, on and off resonance, along all three directions",
  {
    source: "CLOSED-FORM conservation of energy",
    quoted: frequencies.flatMap(() => [1, 1, 1]),
    relTol: 1e-9,
    because: "each term has a formula of its own; only rounding of the solution is left",
    mustNotice: { radiated: 1.01, wood: 1.01, hole: 1.05, leak: 1.5, wallHeat: 1.2 },
  },
  (slip) =>
    frequencies.flatMap((f) =>
      [0, 1, 2].map((direction) => {
        const { power } = opened(forcedResponse(boxBody(), direction, 2 * Math.PI * f));
        const lost =
          power.wood * (slip.wood ?? 1) +
          power.hole * (slip.hole ?? 1) +
          power.leak * (slip.leak ?? 1) +
          power.wallHeat * (slip.wallHeat ?? 1) +
          power.radiated * (slip.radiated ?? 1);
        return lost / power.input;
      }),
    ),
);

proof(
  "modal Q and loss shares of the main modes agree with the power balance of the full equations at their frequency",
  {
    source: "CLOSED-FORM shares of power on resonance",
    quoted: ["main air", "main top"].flatMap((name) => {
      const { power } = opened(forcedResponse(boxBody(), 0, 2 * Math.PI * at(name)));
      return [power.wood, power.hole + power.leak + power.wallHeat, power.radiated].map(
        (p) => p / power.input,
      );
    }),
    absTol: 0.03,
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
