import type { Step } from "./fieldPath.ts";

/** Where a value stands in a JSON text, and what it is made of. */
export interface JsonSpan {
  readonly start: number;
  /** One past its last character. */
  readonly end: number;
  readonly members: readonly JsonMember[];
  readonly kind: "group" | "list" | "plain";
}

export interface JsonMember {
  readonly step: Step;
  /** Where the key begins; for a list, where the value begins. */
  readonly from: number;
  readonly value: JsonSpan;
}

/** Spans of a text that JSON.parse takes (the caller has seen to that). */
export function jsonSpans(text: string): JsonSpan {
  let i = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  const skip = (): void => {
    while (" \n\r\t".includes(text[i] ?? "x")) i++;
  };
  const passText = (): void => {
    i++;
    while (text[i] !== '"') i += text[i] === "\\" ? 2 : 1;
    i++;
  };
  const value = (): JsonSpan => {
    skip();
    const start = i;
    const opening = text[i];
    if (opening !== "{" && opening !== "[") {
      if (opening === '"') passText();
      else while (i < text.length && !",]} \n\r\t".includes(text[i] ?? "")) i++;
      return { start, end: i, members: [], kind: "plain" };
    }
    const group = opening === "{";
    const members: JsonMember[] = [];
    i++;
    skip();
    while (text[i] !== (group ? "}" : "]")) {
      const from = i;
      if (group) {
        passText();
        const key = JSON.parse(text.slice(from, i)) as string;
        skip();
        i++; // the colon
        members.push({ step: key, from, value: value() });
      } else members.push({ step: members.length, from, value: value() });
      skip();
      if (text[i] === ",") i++;
      skip();
    }
    i++;
    return { start, end: i, members, kind: group ? "group" : "list" };
  };
  return value();
}
