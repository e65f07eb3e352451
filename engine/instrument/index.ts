export type * from "./build.ts";
export type { Issue } from "./issue.ts";
