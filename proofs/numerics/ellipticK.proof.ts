import { ellipticK } from "#engine/numerics";
import { proof } from "#proofs/harness";

proof(
  "complete elliptic integral: conductance of an elliptic hole of axes 2 : 1, pi a / K, in semi-axes a",
  {
    source: "RAYLEIGH",
    quoted: 1.456791,
    absTol: 1e-6,
    because: "the source's value has seven digits",
    mustNotice: { parameter: 1.0001 },
  },
  (slip) => Math.PI / ellipticK(0.75 * (slip["parameter"] ?? 1)),
);

proof(
  "complete elliptic integral at parameters 0, 1/2 and -1",
  {
    source: "CLOSED-FORM",
    // K(0) = pi / 2; K(1/2) = Gamma(1/4)^2 / (4 sqrt(pi)); K(-1) = Gamma(1/4)^2 / (4 sqrt(2 pi)); Gamma(1/4) = 3.625609908221908
    quoted: [
      Math.PI / 2,
      3.625609908221908 ** 2 / (4 * Math.sqrt(Math.PI)),
      3.625609908221908 ** 2 / (4 * Math.sqrt(2 * Math.PI)),
    ],
    relTol: 1e-14,
    because: "closed forms, a few units in the last digit of doubles",
    mustNotice: { parameter: 1.001 },
  },
  (slip) => [0, 0.5, -1].map((m) => ellipticK(m * (slip["parameter"] ?? 1))),
);
