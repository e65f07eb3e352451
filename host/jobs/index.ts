/** Jobs: the pipeline's stages in worker threads or a page's workers, under one contract. */
export { nodeCrew } from "./nodeWorkers.ts";
