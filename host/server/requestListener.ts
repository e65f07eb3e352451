import type { RequestListener } from "node:http";
import { getRequestListener } from "@hono/node-server";
import type { Hono } from "hono";
import { securityHeaders } from "./securityHeaders.ts";

/** What a listening socket calls to have its requests answered; one that cannot be read as a request is refused in words. */
export function requestListener(app: Hono): RequestListener {
  const listener = getRequestListener(app.fetch, {
    overrideGlobalObjects: false,
    errorHandler: () =>
      new Response(
        JSON.stringify({ code: "request", message: "The server does not understand this request." }),
        {
          status: 400,
          headers: { ...securityHeaders, "content-type": "application/json" },
        },
      ),
  });
  return (incoming, outgoing) => void listener(incoming, outgoing);
}
