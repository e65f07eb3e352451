import { Hono } from "hono";
import { limits, pageHeader } from "#host/api";
import type { Store } from "#host/store";
import { answer, refuse, troubleAnswer } from "./answer.ts";
import type { Events } from "./events.ts";
import { bodyChunks, bodyFault } from "./readBody.ts";

/** What a browser may show of itself without running anything in it; all else is handed out to be saved. */
const shown = /^(image\/(png|jpeg|gif|webp|avif)|audio\/(wav|x-wav|mpeg|ogg|webm|flac|mp4|aac))$/;

/** Recordings and photos of an instrument. */
export function attachmentRoutes(store: Store, events: Events): Hono {
  const app = new Hono();
  app.post("/:id/attachments", async (c) => {
    const id = c.req.param("id");
    const name = c.req.query("name")?.trim() ?? "";
    if (!/^[^\p{Cc}\p{Surrogate}]{1,120}$/u.test(name))
      return refuse(c, 422, { code: "request", message: "An attachment has a name of 1 to 120 characters." });
    const fault = bodyFault(c, limits.attachment);
    if (fault !== null) return fault;
    const said = c.req.header("content-type")?.split(";")[0]?.trim().toLowerCase() ?? "";
    const mediaType = /^[a-z0-9]+\/[a-z0-9.+-]{1,60}$/.test(said) ? said : "application/octet-stream";
    const kept = await store.attach(c.req.header(pageHeader) ?? "", id, { name, mediaType }, bodyChunks(c));
    if (kept.ok) events.send({ kind: "list" });
    else c.header("connection", "close");
    return answer(c, kept, 201);
  });
  app.get("/:id/attachments/:attachment", (c) => {
    const found = store.attachment(c.req.param("id"), c.req.param("attachment"));
    if (!found.ok) return troubleAnswer(c, found.trouble);
    const { about, stream } = found.value;
    const safe = shown.test(about.mediaType);
    return c.body(ReadableStream.from(stream()), 200, {
      "content-type": safe ? about.mediaType : "application/octet-stream",
      "content-length": String(about.bytes),
      "content-security-policy": "default-src 'none'; sandbox",
      // RFC 6266 with the encoding of RFC 8187
      "content-disposition": `${safe ? "inline" : "attachment"}; filename*=UTF-8''${encodeURIComponent(about.name).replace(/['()*]/g, (mark) => `%${mark.charCodeAt(0).toString(16)}`)}`,
      // the bytes of an id never change
      "cache-control": "private, max-age=31536000, immutable",
    });
  });
  return app;
}
