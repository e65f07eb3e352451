/** Builds the page into .out/app unless it was built from these very sources. */
export function buildPage(): Promise<void>;
