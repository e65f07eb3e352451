/** In the mean over many modes and places a plate takes power as an endless one does. */
import { opened, quiet } from "#engine/numerics";
import { coupleBody, crownMobility } from "#engine/response";
import { proof } from "#proofs/harness";
import { boxBody, modalFlexibility, sixCrowns, topPlate } from "../../engine/response/body.fixture.ts";
import { supportedPlateModes } from "../../engine/response/supportedPlate.fixture.ts";

proof(
  "mean conductance of a supported orthotropic plate, 0.5 to 10 kHz, over 1/(8 sqrt(D' m\"))",
  {
    source: "EGE-2013 (skudrzyk): n(f)/(4M), with D' = sqrt(D1 D2)",
    quoted: 1,
    relTol: 0.12,
    because:
      "some 75 modes and six places scatter by a tenth about the mean; D3 is near the root of D1 D2, as the formula wants",
    mustNotice: { mass: 1.5, lostHalf: 0.5 },
  },
  (slip) => {
    // D3 of a plate that is an isotropic one stretched along the grain: exact case of the formula.
    const D3 = Math.sqrt(topPlate.D1 * topPlate.D2);
    const plate = { ...topPlate, D3, count: 120, massPerArea: topPlate.massPerArea * (slip.mass ?? 1) };
    const crowns = sixCrowns.map((c, k) => ({ ...c, x: 0.1 + 0.04 * k, y: 0.02 * [-7, -4, -1, 2, 4, 6][k] }));
    const { cavity } = boxBody();
    const body = opened(
      coupleBody(
        boxBody({
          rim: "held",
          outsideAir: "none",
          cavity: { ...cavity, air: { ...cavity.air, density: 1e-9 }, leak: 0, wallArea: 0 },
          top: supportedPlateModes(plate),
          crowns,
          bridgeFlexibility: modalFlexibility(plate, crowns, 120),
        }),
        quiet,
      ),
    );
    let sum = 0;
    const steps = 2000;
    for (let k = 0; k < steps; k++) {
      const y = crownMobility(body, 2 * Math.PI * (500 + (9500 * (k + 0.5)) / steps));
      for (let c = 0; c < 6; c++) sum += y.re[3 * c * 19];
    }
    const mean = sum / (6 * steps);
    return mean * (slip.lostHalf ?? 1) * 8 * Math.sqrt(Math.sqrt(plate.D1 * plate.D2) * topPlate.massPerArea);
  },
);
