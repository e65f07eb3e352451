/** T60 of a sampled pressure for tests: backward-integrated square, least-squares line from -5 to -25 dB. `step` in s. */
export function sampledReverberation(pressure: ArrayLike<number>, step: number): number {
  const energy = new Float64Array(pressure.length);
  let sum = 0;
  for (let i = pressure.length - 1; i >= 0; i--) {
    sum += pressure[i]! ** 2;
    energy[i] = sum;
  }
  const from = energy.findIndex((e) => e < sum * 10 ** -0.5);
  const to = energy.findIndex((e) => e < sum * 10 ** -2.5);
  let [st, sl, stt, stl] = [0, 0, 0, 0];
  for (let i = from; i < to; i++) {
    const level = 10 * Math.log10(energy[i]! / sum);
    st += i * step;
    sl += level;
    stt += (i * step) ** 2;
    stl += i * step * level;
  }
  const count = to - from;
  return -60 / ((count * stl - st * sl) / (count * stt - st * st));
}
