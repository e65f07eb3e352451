import type { Plugin } from "vite";

/** Every language of the component library but English is taken for English. */
export function englishOnly(): Plugin;
