/**
 * Mean of 1/r between two equal squares (side s) of one plane, by their shift in whole squares (i across, j up):
 *   K(i,j) = 1/s  sum over a,b of weight(a) weight(b) F(|i + a|, |j + b|),   weight = 1, -2, 1 for a = -1, 0, 1
 *   F(x,y) = x^2 y/2 asinh(y/x) + x y^2/2 asinh(x/y) - r^3/6,   d4F/dx2dy2 = 1/r
 * K(0,0) s = 4 ln(1 + sqrt 2) + 4 (1 - sqrt 2)/3 = 2.9732. Returns rows x columns values, 1/m (j slow, i fast).
 * Beyond 30 squares F cancels in rounding; there 1/r with its second moment is exact to 1e-7.
 */
export function squareKernel(side: number, columns: number, rows: number): Float64Array {
  const out = new Float64Array(rows * columns);
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      out[j * columns + i] = (i * i + j * j > 900 ? farMean(i, j) : nearMean(i, j)) / side;
    }
  }
  return out;
}

function nearMean(i: number, j: number): number {
  let sum = 0;
  for (let a = -1; a <= 1; a++) {
    for (let b = -1; b <= 1; b++) {
      sum += (a === 0 ? -2 : 1) * (b === 0 ? -2 : 1) * fourthIntegral(Math.abs(i + a), Math.abs(j + b));
    }
  }
  return sum;
}

function fourthIntegral(x: number, y: number): number {
  const r = Math.hypot(x, y);
  const first = x > 0 ? 0.5 * x * x * y * Math.asinh(y / x) : 0;
  const second = y > 0 ? 0.5 * x * y * y * Math.asinh(x / y) : 0;
  return first + second - r ** 3 / 6;
}

/** 1/r averaged over two unit squares far apart: 1/r + (1/12) Laplacian of 1/r = 1/r + 1/(12 r^3). */
function farMean(i: number, j: number): number {
  const r = Math.hypot(i, j);
  return 1 / r + 1 / (12 * r ** 3);
}
