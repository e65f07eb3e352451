/** Numerics: the mathematics the sciences stand on. Nothing here knows of wood, air or strings. */
export {
  type Complex,
  complex,
  complexAbs,
  complexAdd,
  complexDivide,
  complexExp,
  complexMultiply,
  complexScale,
  complexSqrt,
  complexSubtract,
} from "./complex/complex.ts";
export { choleskyDense, choleskySolve } from "./dense/cholesky.ts";
export { type ComplexLu, complexLu, complexLuSolve } from "./dense/complexLu.ts";
export { luSolve } from "./dense/lu.ts";
export { type Eigenpairs, type LowestModesOptions, lowestModes } from "./eigen/lowestModes.ts";
export { type DenseEigenpairs, generalizedSymmetricEigen, symmetricEigen } from "./eigen/symmetricEigen.ts";
export { piecewiseLinear } from "./interpolation/piecewiseLinear.ts";
export {
  type CubicSpline,
  clampedSpline,
  naturalSpline,
  periodicSpline,
  splineValue,
} from "./interpolation/spline.ts";
export {
  type Context,
  done,
  failed,
  invariant,
  type Outcome,
  opened,
  quiet,
  type Warning,
} from "./outcome.ts";
export { gaussLegendre, type LineRule } from "./quadrature/gaussLegendre.ts";
export { type TriangleRule, triangleRule } from "./quadrature/triangleRule.ts";
export { seededRandom } from "./random/seededRandom.ts";
export { brent } from "./roots/brent.ts";
export { analysePattern, type CholeskyFactor, type FactorizeOptions, factorize } from "./sparse/factorize.ts";
export { solveFactored } from "./sparse/solveFactored.ts";
export type { SupernodePartition } from "./sparse/supernodes.ts";
export {
  addElement,
  type SparseSymmetric,
  symmetricCombination,
  symmetricMultiply,
  symmetricPattern,
} from "./sparse/symmetric.ts";
export { ellipticK } from "./special/ellipticK.ts";
