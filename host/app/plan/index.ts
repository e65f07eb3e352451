/** The sheet of the instrument: plan, side and section, drawn to scale and worked on by hand. */
export type { Showing } from "./firstView.ts";
export { PlanView } from "./PlanView.tsx";
