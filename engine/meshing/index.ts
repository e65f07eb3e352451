/** Outline to triangles: quality triangulation in plan, with nodes on brace lines and patch edges. */
export { locate, planLocator } from "./locate.ts";
export { meshFaults } from "./meshFaults.ts";
export { meshPlan } from "./meshPlan.ts";
export { meshQuality, nodeAreas } from "./meshQuality.ts";
export type { PlanMesh, PlanRegion } from "./planMesh.ts";
