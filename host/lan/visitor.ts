import type { IncomingMessage, ServerResponse } from "node:http";
import { pairPage, pairStyle } from "./pairPage.ts";

/** What somebody who is not paired is given. */
export interface Given {
  readonly status: number;
  readonly type: "text/html" | "text/css" | "text/plain";
  readonly body: string;
  readonly headers?: Readonly<Record<string, string>>;
}

/** What a stranger asks for: the page to pair by, or a try of the code. */
export type StrangerWish = { readonly give: Given } | { readonly give: null };

/** Secure, this host alone, unseen by scripts, never sent along by another site (RFC 6265bis 4.1.3.2; from memory). */
const cookie = "__Host-fairbout";
const year = 365 * 24 * 3600;
const longestForm = 2000;

const plain = (status: number, body: string): Given => ({ status, type: "text/plain", body });

/** What a request without a paired secret is given; `give` null: it is a try of the code, to be read from its form. */
export function strangerWish(
  { method, url, headers }: Pick<IncomingMessage, "method" | "url" | "headers">,
  host: string,
): StrangerWish {
  const path = pathOf(url);
  if (path === "/pair.css" && method === "GET")
    return { give: { status: 200, type: "text/css", body: pairStyle } };
  if (path === "/pair" && method === "POST") {
    // a form's page names its origin, for the page to pair by allows it; another site's is refused
    if (headers.origin === undefined || headers.origin === `https://${host}`) return { give: null };
    return { give: plain(403, "Another site may not pair.") };
  }
  if (method === "GET" && (path === "/" || path === "/pair")) return { give: codePage(200, null) };
  return { give: plain(401, "This tablet is not paired with the bench.") };
}

export const pathOf = (url: string | undefined): string => (url ?? "/").split("?")[0] ?? "/";

export const codePage = (status: number, message: string | null): Given => ({
  status,
  type: "text/html",
  body: pairPage(message),
});

/** The answer to the right code: the secret, and on to the bench. */
export const welcome = (secret: string): Given => ({
  ...plain(303, ""),
  headers: {
    location: "/",
    "set-cookie": `${cookie}=${secret}; Path=/; Max-Age=${year}; Secure; HttpOnly; SameSite=Strict`,
  },
});

/** The secret that a request bears; null: none. */
export function secretOf({ headers }: Pick<IncomingMessage, "headers">): string | null {
  for (const crumb of (headers.cookie ?? "").split(";")) {
    const [name, value] = crumb.trim().split("=");
    if (name === cookie && value !== undefined) return value;
  }
  return null;
}

export function send(
  outgoing: ServerResponse,
  given: Given,
  headers: Readonly<Record<string, string>>,
): void {
  outgoing.writeHead(given.status, {
    ...headers,
    // the page to pair by sends a form, and the form must say where it comes from
    "content-security-policy":
      "default-src 'none'; style-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'",
    "referrer-policy": "same-origin",
    "content-type": `${given.type}; charset=utf-8`,
    "cache-control": "no-store",
    ...given.headers,
  });
  outgoing.end(given.body);
}

/** The fields of a form (WHATWG URL, application/x-www-form-urlencoded); null: longer than a code and a name can be. */
export function readForm(incoming: IncomingMessage, then: (fields: URLSearchParams | null) => void): void {
  let text = "";
  let told = false;
  const tell = (fields: URLSearchParams | null): void => {
    if (!told) then(fields);
    told = true;
  };
  incoming.setEncoding("utf8");
  incoming.on("data", (part: string) => {
    if (text.length <= longestForm) text += part;
    if (text.length > longestForm) tell(null);
  });
  incoming.on("end", () => tell(new URLSearchParams(text)));
}
