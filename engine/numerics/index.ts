/** Numerics: the mathematics the sciences stand on. Nothing here knows of wood, air or strings. */
export {
  type Complex,
  complexDivide,
  complexMultiply,
} from "./complex/complex.ts";
export { choleskyDense, choleskySolve } from "./dense/cholesky.ts";
export { type ComplexLu, complexLu, complexLuSolve } from "./dense/complexLu.ts";
export { luSolve } from "./dense/lu.ts";
export { transposed, transposeSquare } from "./dense/transpose.ts";
export { joinSlices } from "./eigen/joinSlices.ts";
export { lowestDense } from "./eigen/lowestDense.ts";
export { lowestModes } from "./eigen/lowestModes.ts";
export { modesBelow } from "./eigen/modesBelow.ts";
export { countBelow, modesBetween, type SliceOptions } from "./eigen/modesBetween.ts";
export {
  type RefreshState,
  refreshModes,
  refreshSolve,
  refreshState,
  refreshValues,
} from "./eigen/refreshModes.ts";
export { generalizedSymmetricEigen, symmetricEigen } from "./eigen/symmetricEigen.ts";
export { piecewiseLinear } from "./interpolation/piecewiseLinear.ts";
export { periodicSpline, splineValue } from "./interpolation/spline.ts";
export { invariant } from "./invariant.ts";
export { kernelMemory, placeOf } from "./kernels/kernelMemory.ts";
export { type KernelSource, type Kernels, typescriptKernels } from "./kernels/kernels.ts";
export type { WaveSurface } from "./kernels/wavePairs.ts";
export {
  type Context,
  done,
  failed,
  type Outcome,
  opened,
  quiet,
  type Warning,
} from "./outcome.ts";
export { gaussLegendre } from "./quadrature/gaussLegendre.ts";
export { triangleRule } from "./quadrature/triangleRule.ts";
export { seededRandom } from "./random/seededRandom.ts";
export { brent } from "./roots/brent.ts";
export { analysePattern, factorize, refactorize } from "./sparse/factorize.ts";
export { solveFactored } from "./sparse/solveFactored.ts";
export {
  addElements,
  quadraticForms,
  type SparseSymmetric,
  symmetricMultiply,
  symmetricPattern,
} from "./sparse/symmetric.ts";
export { ellipticK } from "./special/ellipticK.ts";
