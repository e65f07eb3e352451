/** Modes up to `highest` rad/s as they are found, ascending; `root`: place among the roots, -1 if the crown stands still. */
interface ModeList {
  count: number;
  readonly highest: number;
  readonly omega: Float64Array;
  readonly decay: Float64Array;
  readonly partial: Int32Array;
  readonly modeIndex: Int32Array;
  readonly root: Int32Array;
}

export function modeList(most: number, highest: number): ModeList {
  return {
    count: 0,
    highest,
    omega: new Float64Array(most),
    decay: new Float64Array(most),
    partial: new Int32Array(most),
    modeIndex: new Int32Array(most),
    root: new Int32Array(most),
  };
}

/** Takes in the mode with this square of its complex frequency, if it is not too high. */
export function insert(
  list: ModeList,
  lambdaRe: number,
  lambdaIm: number,
  partial: number,
  modeIndex: number,
  root: number,
): void {
  // principal square root in the right half plane
  const w = Math.sqrt((Math.sqrt(lambdaRe * lambdaRe + lambdaIm * lambdaIm) + lambdaRe) / 2);
  if (w > list.highest) return;
  let k = list.count++;
  for (; k > 0 && list.omega[k - 1]! > w; k--) {
    list.omega[k] = list.omega[k - 1]!;
    list.decay[k] = list.decay[k - 1]!;
    list.partial[k] = list.partial[k - 1]!;
    list.modeIndex[k] = list.modeIndex[k - 1]!;
    list.root[k] = list.root[k - 1]!;
  }
  list.omega[k] = w;
  list.decay[k] = lambdaIm / (2 * w);
  list.partial[k] = partial;
  list.modeIndex[k] = modeIndex;
  list.root[k] = root;
}
