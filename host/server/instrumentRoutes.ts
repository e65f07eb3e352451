import { type Context, Hono } from "hono";
import { compress } from "hono/compress";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import { edit, limits, newInstrument, newKeepsake, pageHeader, putAway, restore, step } from "#host/api";
import type { Changed, Kept, Store } from "#host/store";
import { answer, refuse, troubleAnswer } from "./answer.ts";
import { attachmentRoutes } from "./attachmentRoutes.ts";
import type { Events } from "./events.ts";
import { jsonBody } from "./readBody.ts";

/** A document inside JSON: every character may be escaped there. */
const documentRequest = 2 * limits.document;

export const pageOf = (c: Context): string => c.req.header(pageHeader) ?? "";

/** Everything below /api/instruments. */
export function instrumentRoutes(store: Store, events: Events): Hono {
  const app = new Hono();
  const changed = (c: Context, id: string, kept: Kept<Changed>): Response => {
    if (!kept.ok) return troubleAnswer(c, kept.trouble);
    if (!kept.value.done) {
      // the page that was first sees what was set aside
      events.send({
        kind: "changed",
        instrument: id,
        revision: kept.value.conflict.current.revision,
        by: pageOf(c),
      });
      return c.json(kept.value.conflict, 409, noStore);
    }
    events.send({ kind: "changed", instrument: id, revision: kept.value.saved.revision, by: pageOf(c) });
    return c.json(kept.value.saved, 200, noStore);
  };
  const listed = <T extends object>(c: Context, kept: Kept<T>, status: ContentfulStatusCode) => {
    if (kept.ok) events.send({ kind: "list" });
    return answer(c, kept, status);
  };

  app.post("/", async (c) => {
    const body = await jsonBody(c, newInstrument, documentRequest);
    return body.ok ? listed(c, store.make(pageOf(c), body.value), 201) : body.answer;
  });
  app.get("/:id", compress(), (c) => answer(c, store.state(c.req.param("id"))));
  app.post("/:id/edits", async (c) => {
    const id = c.req.param("id");
    const body = await jsonBody(c, edit, documentRequest);
    return body.ok ? changed(c, id, store.edit(pageOf(c), id, body.value)) : body.answer;
  });
  app.post("/:id/undo", async (c) => {
    const id = c.req.param("id");
    const body = await jsonBody(c, step, limits.request);
    return body.ok ? changed(c, id, store.undo(pageOf(c), id, body.value)) : body.answer;
  });
  app.post("/:id/redo", async (c) => {
    const id = c.req.param("id");
    const body = await jsonBody(c, step, limits.request);
    return body.ok ? changed(c, id, store.redo(pageOf(c), id, body.value)) : body.answer;
  });
  app.post("/:id/restore", async (c) => {
    const id = c.req.param("id");
    const body = await jsonBody(c, restore, limits.request);
    return body.ok ? changed(c, id, store.restore(pageOf(c), id, body.value)) : body.answer;
  });
  app.post("/:id/keepsakes", async (c) => {
    const body = await jsonBody(c, newKeepsake, limits.request);
    return body.ok ? listed(c, store.keepsake(pageOf(c), c.req.param("id"), body.value), 201) : body.answer;
  });
  app.put("/:id/away", async (c) => {
    const body = await jsonBody(c, putAway, limits.request);
    return body.ok ? listed(c, store.putAway(c.req.param("id"), body.value), 200) : body.answer;
  });
  app.get("/:id/history", (c) => {
    const before = c.req.query("before");
    if (before !== undefined && !/^[1-9]\d{0,14}$/.test(before))
      return refuse(c, 422, { code: "request", message: "before is the number of a revision." });
    return answer(c, store.history(c.req.param("id"), before === undefined ? undefined : Number(before)));
  });
  app.get("/:id/revisions/:revision", (c) => {
    const revision = c.req.param("revision");
    if (!/^[1-9]\d{0,14}$/.test(revision))
      return refuse(c, 404, { code: "absent", message: "There is no such revision." });
    const text = store.revisionText(c.req.param("id"), Number(revision));
    return text.ok
      ? c.body(text.value, 200, { "content-type": "application/json", "cache-control": "no-store" })
      : troubleAnswer(c, text.trouble);
  });
  app.route("/", attachmentRoutes(store, events));
  return app;
}

const noStore = { "cache-control": "no-store" };
