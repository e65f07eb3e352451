/** How far a plucked string swings: the parallelogram of its travelling halves against the sum of its partials. */
import { nearestCrowns } from "#engine/strings";
import { proof } from "#proofs/harness";

const length = 0.65;
const peak = 1e-3;
const partials = 3000;
const plucks = [0.08, 0.13, 0.2];
/** Places from the stopped end, away from the corners, where the sum of partials is slow. */
const places = [0.03, 0.06, 0.1, 0.16, 0.25, 0.32];

/**
 * Largest displacement over a period from the partials: y = sum b_n sin(n pi x/L) cos(n w t), with
 * b_n = 2 h L^2 / (n^2 pi^2 a (L - a)) sin(n pi a/L), h the height let go at a.
 */
function farthest(a: number, x: number): number {
  const amplitude = Float64Array.from({ length: partials }, (_, k) => {
    const n = k + 1;
    return (
      ((2 * peak * length ** 2) / (n ** 2 * Math.PI ** 2 * a * (length - a))) *
      Math.sin((n * Math.PI * a) / length) *
      Math.sin((n * Math.PI * x) / length)
    );
  });
  let most = 0;
  for (let step = 0; step <= 200; step++) {
    const turn = (Math.PI * step) / 200;
    let y = 0;
    for (let k = 0; k < partials; k++) y += amplitude[k]! * Math.cos((k + 1) * turn);
    most = Math.max(most, Math.abs(y));
  }
  return most;
}

proof(
  "the farthest a plucked ideal string comes, by its partials summed over a period, read off a single crown below it",
  {
    source: "FLETCHER-ROSSING ch. 2, displacement of the string plucked at a",
    quoted: plucks.flatMap((a) => places.map((x) => farthest(a, x))),
    absTol: 1e-6,
    because: "3000 partials leave 1 / (pi^2 N) of 1 mm, under a micrometre",
    mustNotice: { peak: 1.01, place: 1.03, ahead: 1.02 },
  },
  (slip) =>
    plucks.flatMap((a) =>
      places.map((x) => {
        // a string resting 5 mm over one crown and held at both ends: what is lost of that height is the swing
        const ahead = x * (slip["ahead"] ?? 1);
        const [open] = nearestCrowns(
          {
            string: 1,
            scaleLength: length,
            fretPlace: Float64Array.of(0, ahead),
            crownHeight: new Float64Array(2),
            nutHeight: 0.005,
            saddleHeight: 0.005,
          },
          () => ({ fromSaddle: a * (slip["place"] ?? 1), peak: peak * (slip["peak"] ?? 1) }),
        );
        return 0.005 - open!.clearance;
      }),
    ),
);
