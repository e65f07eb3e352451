import { Hono } from "hono";
import { lanDeed, limits } from "#host/api";
import type { Door } from "#host/lan";
import { refuse } from "./answer.ts";
import { jsonBody } from "./readBody.ts";

/** The door to the shop's network, worked from the bench itself: a tablet that came through it does not get these. */
export function lanRoutes(door: Door): Hono {
  const app = new Hono();
  app.get("/", (c) => c.json(door.state(), 200, { "cache-control": "no-store" }));
  app.post("/", async (c) => {
    const deed = await jsonBody(c, lanDeed, limits.request);
    if (!deed.ok) return deed.answer;
    const answer = await door.does(deed.value);
    return answer.ok
      ? c.json(answer.state, 200, { "cache-control": "no-store" })
      : refuse(c, 422, { code: "door", message: answer.message });
  });
  return app;
}
