import type { Context } from "hono";
import type { ZodType } from "zod";
import type { RefusedPlace } from "#host/api";
import { refuse } from "./answer.ts";

export type Read<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly answer: Response };

const no = (answer: Response): { readonly ok: false; readonly answer: Response } => ({ ok: false, answer });

/** Refuses a body by what the request says of it, before any of it is read. */
export function bodyFault(c: Context, limit: number): Response | null {
  const encoding = c.req.header("content-encoding");
  if (encoding !== undefined && encoding !== "identity")
    return refuse(c, 415, { code: "encoding", message: "A body is sent as it is, not compressed." });
  const length = c.req.header("content-length");
  if (length !== undefined && !(Number(length) <= limit)) return tooLarge(c, limit);
  return null;
}

/** The connection ends with the answer: what is still on its way of the body is not waited for. */
function tooLarge(c: Context, limit: number): Response {
  c.header("connection", "close");
  return refuse(c, 413, { code: "too-large", message: `At most ${limit / 1e6} MB are taken here.` });
}

/** The chunks of a body, to be read once. */
export async function* bodyChunks(c: Context): AsyncGenerator<Uint8Array> {
  const reader = c.req.raw.body?.getReader();
  if (reader === undefined) return;
  try {
    while (true) {
      const { done, value } = await reader.read();
      if (done) return;
      yield value as Uint8Array;
    }
  } finally {
    // refused or broken off: the rest is not wanted
    await reader.cancel().catch(() => {});
  }
}

/** A body of at most `limit` bytes. */
export async function bodyBytes(c: Context, limit: number): Promise<Read<Buffer>> {
  const fault = bodyFault(c, limit);
  if (fault !== null) return no(fault);
  const chunks: Uint8Array[] = [];
  let length = 0;
  try {
    for await (const chunk of bodyChunks(c)) {
      length += chunk.length;
      if (length > limit) return no(tooLarge(c, limit));
      chunks.push(chunk);
    }
  } catch {
    // whoever sent it hung up; the answer is for the record
    return no(refuse(c, 400, { code: "broken-off", message: "The request did not arrive whole." }));
  }
  return { ok: true, value: Buffer.concat(chunks) };
}

/** A JSON body as its schema reads it, or the refusal with the places at fault. */
export async function jsonBody<T>(c: Context, schema: ZodType<T>, limit: number): Promise<Read<T>> {
  const type = c.req.header("content-type")?.split(";")[0]?.trim().toLowerCase();
  if (type !== "application/json")
    return no(refuse(c, 415, { code: "type", message: "This is asked for as application/json." }));
  const bytes = await bodyBytes(c, limit);
  if (!bytes.ok) return bytes;
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes.value));
  } catch {
    return no(refuse(c, 400, { code: "json", message: "This is not JSON in UTF-8." }));
  }
  const read = schema.safeParse(json);
  if (read.success) return { ok: true, value: read.data };
  const issues = read.error.issues.slice(0, 20).map(
    (issue): RefusedPlace => ({
      code: issue.code,
      path: issue.path.map(String).join("."),
      message: issue.message,
    }),
  );
  return no(refuse(c, 422, { code: "request", message: "The request is not as it should be.", issues }));
}
