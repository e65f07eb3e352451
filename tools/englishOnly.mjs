/**
 * The component library brings its few spoken words in thirty languages; the page speaks English, and a control that speaks
 * another one beside it helps nobody. Every other language is taken for English, and weighs nothing.
 */
export function englishOnly() {
  return {
    name: "fairbout-english-only",
    load: (id) =>
      /react-(aria|stately)[^?]*\/intl\/[^?]*\/(?!en-US)[a-z]{2}-[A-Z]{2}\.m?js$/.test(id)
        ? `export { default } from "./en-US.${id.endsWith(".mjs") ? "mjs" : "js"}";`
        : null,
  };
}
