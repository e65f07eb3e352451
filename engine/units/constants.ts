/** Physical constants and reference states used by more than one science. */

/** Standard acceleration of free fall, m/s2: exact by definition (3rd CGPM, 1901). */
export const standardGravity = 9.80665;

/** 0 degrees Celsius in kelvin: exact by definition. */
export const celsiusZero = 273.15;

/** Standard atmosphere, Pa: exact by definition (10th CGPM, 1954). */
export const standardPressure = 101_325;

/** Reference sound pressure in air, Pa (IEC 61672-1, ISO 1683). */
export const referenceSoundPressure = 20e-6;
