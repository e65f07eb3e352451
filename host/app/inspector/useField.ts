import { useState } from "react";
import type { RefusedPlace } from "#host/api";
import { type EditAnswer, type Json, useBench } from "../bench/index.ts";
import { draftKey, dropDraft, putDraft, useDrafts } from "./drafts.ts";
import { setField } from "./fieldDeeds.ts";
import type { Shape } from "./shape.ts";

export interface FieldInHand {
  /** What stands in the field: what was typed, else the document's value. */
  readonly text: string;
  readonly issues: readonly RefusedPlace[] | null;
  /** The engine looks at it. */
  readonly busy: boolean;
  type(text: string): void;
  /** Enter, or leaving the field: into the document, unless it is refused. `again`: also what was refused as it stands. */
  commit(again: boolean): void;
  /** Takes a text and commits it. */
  take(text: string): void;
  /** Escape: the document's value is back. */
  giveUp(): void;
}

/** A field that is typed into. Whatever is typed stays until it is in the document, is mended, or is given up. */
export function useField(
  path: string,
  shape: Shape,
  value: Json | undefined,
  optional: boolean,
): FieldInHand {
  const instrument = useBench((bench) => bench.open?.id ?? "");
  const key = draftKey(instrument, path);
  const draft = useDrafts(({ byField }) => byField[key]);
  const [busy, setBusy] = useState(false);
  const stands = value === undefined || typeof value === "object" ? "" : String(value);

  const send = async (text: string): Promise<void> => {
    const document = useBench.getState().open?.document;
    if (document === undefined) return;
    setBusy(true);
    const answer = await setField(document, path, typedValue(shape, text, optional));
    setBusy(false);
    // What was typed meanwhile is newer than this answer.
    const now = useDrafts.getState().byField[key];
    if (now !== undefined && now.text !== text) return;
    if (answer.ok) dropDraft(key);
    else putDraft(key, { text, issues: answer.issues });
  };

  return {
    text: draft?.text ?? stands,
    issues: draft?.issues ?? null,
    busy,
    type: (text) => putDraft(key, { text, issues: null }),
    commit(again) {
      if (draft === undefined || (draft.issues !== null && !again)) return;
      if (draft.text.trim() === stands.trim()) dropDraft(key);
      else void send(draft.text);
    },
    take(text) {
      putDraft(key, { text, issues: null });
      void send(text);
    },
    giveUp: () => dropDraft(key),
  };
}

/** A choice that is made by one press: no draft to keep, but a refusal to show. */
export function useRefusal(path: string): {
  readonly issues: readonly RefusedPlace[] | null;
  readonly watch: (answer: Promise<EditAnswer>) => Promise<boolean>;
  readonly forget: () => void;
} {
  const instrument = useBench((bench) => bench.open?.id ?? "");
  const key = draftKey(instrument, `${path} (choice)`);
  const issues = useDrafts(({ byField }) => byField[key]?.issues ?? null);
  return {
    issues,
    async watch(asked) {
      const answer = await asked;
      if (answer.ok) dropDraft(key);
      else putDraft(key, { text: "", issues: answer.issues });
      return answer.ok;
    },
    forget: () => dropDraft(key),
  };
}

/** What a typed text is in the document. An empty field that may be left out is left out. */
function typedValue(shape: Shape, text: string, optional: boolean): Json | undefined {
  const typed = text.trim();
  if (typed === "" && optional) return undefined;
  const number =
    shape.is === "number" || (shape.is === "forms" && shape.forms.some(({ is }) => is === "number"));
  // A number that cannot be read goes as it is, so that the engine says what is allowed.
  return number && typed !== "" && Number.isFinite(Number(typed)) ? Number(typed) : typed;
}
