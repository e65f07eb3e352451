/**
 * Which hand does which part of the body. Of two hands one meshes both plates, one after the other, and the other solves the
 * air: a hand compiles what it runs, and two that compile one mesher at a time need longer than one that meshes twice. Four
 * hands take a part each.
 */
export const lanes = { top: 0, back: 2, air: 1, outside: 3 } as const;
