/** Every field of the document: shown, explained, edited. */
export { focusField, useFieldFocus } from "./focusField.ts";
export { Inspector } from "./Inspector.tsx";
