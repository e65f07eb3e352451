/** What the page and the server say to each other: types, limits and the schemas both sides read requests with. */
export * from "./answers.ts";
export * from "./lan.ts";
export * from "./limits.ts";
export * from "./requests.ts";
export * from "./routes.ts";
