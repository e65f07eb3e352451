import type { Context } from "hono";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import type { Refusal } from "#host/api";
import type { Kept, Trouble } from "#host/store";

/** 507: RFC 4918, 11.5 (Insufficient Storage); the others RFC 9110, 15. */
const statuses: Readonly<Record<Trouble["code"], ContentfulStatusCode>> = {
  absent: 404,
  document: 422,
  "id-used": 422,
  "nothing-to-undo": 422,
  "nothing-to-redo": 422,
  archive: 422,
  "too-large": 413,
  "broken-off": 400,
  "disk-full": 507,
  disk: 507,
};

/** A refusal in words. */
export const refuse = (c: Context, status: ContentfulStatusCode, refusal: Refusal): Response =>
  c.json(refusal, status, { "cache-control": "no-store" });

export const troubleAnswer = (c: Context, trouble: Trouble): Response =>
  refuse(c, statuses[trouble.code], trouble);

/** What the store gave, as JSON, or why it did not. */
export const answer = <T extends object>(
  c: Context,
  kept: Kept<T>,
  status: ContentfulStatusCode = 200,
): Response =>
  kept.ok ? c.json(kept.value, status, { "cache-control": "no-store" }) : troubleAnswer(c, kept.trouble);
