export { celsiusZero, referenceSoundPressure, standardGravity, standardPressure } from "./constants.ts";
export { formatQuantity, fromUnit, inches, inUnit, millimetres } from "./formatQuantity.ts";
export { nearestWord } from "./nearest.ts";
export { parseQuantity } from "./parseQuantity.ts";
export { kindWords, type QuantityKind, quantityPattern } from "./unitTable.ts";
