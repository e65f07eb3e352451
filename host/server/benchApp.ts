import type { IncomingMessage } from "node:http";
import { type Context, Hono } from "hono";
import { pageHeader } from "#host/api";
import { refuse } from "./answer.ts";
import { type Bench, benchRoutes } from "./benchRoutes.ts";
import type { Asking, Denied } from "./guard.ts";
import { securityHeaders } from "./securityHeaders.ts";

export interface BenchAppOptions extends Bench {
  /** Hands out the built page. */
  readonly page: Hono;
  /** Why a request is not answered, or null: every listener has its own. */
  readonly guard: (asking: Asking) => Denied | null;
  /** Takes a fault of our own. */
  readonly fault: (error: unknown) => void;
}

/** Answers requests, whatever listener they come by. */
export function benchApp(options: BenchAppOptions): Hono {
  const app = new Hono();
  app.use(async (c, next) => {
    const no = options.guard(askingOf(c));
    if (no === null) await next();
    else c.res = refuse(c, no.status, no);
    const own = c.res.headers.get("content-security-policy");
    for (const [name, value] of Object.entries(securityHeaders)) c.res.headers.set(name, value);
    if (own !== null) c.res.headers.set("content-security-policy", own);
  });
  app.route("/api", benchRoutes(options));
  app.all("/api/*", (c) => refuse(c, 404, { code: "absent", message: "There is nothing here." }));
  app.route("/", options.page);
  app.notFound((c) => refuse(c, 404, { code: "absent", message: "There is nothing here." }));
  app.onError((error, c) => {
    options.fault(error);
    return refuse(c, 500, {
      code: "fault",
      message: "Fairbout itself failed here. Nothing saved before is lost.",
    });
  });
  return app;
}

function askingOf(c: Context): Asking {
  const incoming = (c.env as { incoming?: IncomingMessage } | undefined)?.incoming;
  const hostLines = incoming?.rawHeaders.filter((word, i) => i % 2 === 0 && word.toLowerCase() === "host");
  const header = (name: string) => c.req.header(name) ?? null;
  return {
    method: c.req.method,
    host: header("host"),
    target: URL.canParse(c.req.url) ? new URL(c.req.url).host : "",
    hostLines: hostLines?.length ?? 1,
    origin: header("origin"),
    site: header("sec-fetch-site"),
    page: header(pageHeader),
  };
}
