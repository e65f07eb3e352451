/**
 * Which hand does which part of the body. Of two hands each meshes a plate, and the one with the back, the smaller, then solves the
 * air while the other joins the body: neither air is wanted before the modes are found. Both plates in one hand cost no less
 * processor time than one in each (5.9 s cold, compiling included), but keep the join waiting for longer.
 */
export const lanes = { top: 0, back: 1, air: 3, outside: 3 } as const;
