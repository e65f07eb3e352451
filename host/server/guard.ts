/**
 * Who may ask. A server on the loopback address is reached by every page that a browser of this machine shows, so the address
 * alone proves nothing: a foreign page may send requests here (cross-site request forgery), and a foreign name may be pointed
 * here (DNS rebinding). Against the first: Fetch Metadata (W3C), Origin (RFC 6454) and a header that needs a preflight
 * (OWASP, Cross-Site Request Forgery Prevention Cheat Sheet); against the second: the Host (RFC 9110, 7.2). From memory, all four.
 */

/** What a request says of itself; a header that is absent is null. */
export interface Asking {
  readonly method: string;
  readonly host: string | null;
  /** Host and port of what is asked for: the same, unless the request line itself names another (RFC 9112, 3.2.2). */
  readonly target: string;
  /** Lines of the request that name a host. More than one is refused (RFC 9112, 3.2). */
  readonly hostLines: number;
  readonly origin: string | null;
  /** Sec-Fetch-Site. */
  readonly site: string | null;
  /** The page's own id. */
  readonly page: string | null;
}

export interface Denied {
  readonly status: 400 | 403 | 405 | 421;
  readonly code: string;
  readonly message: string;
}

const reads = new Set(["GET", "HEAD"]);
const changes = new Set(["POST", "PUT"]);

/** Names under which the loopback address may be asked for on a port. */
export const loopbackNames = (port: number): ReadonlySet<string> =>
  new Set([`127.0.0.1:${port}`, `localhost:${port}`, `[::1]:${port}`]);

/** Why a request is not answered, or null. `names`: host and port that the server answers to; `scheme`: "http" or "https". */
export function denied(asking: Asking, names: ReadonlySet<string>, scheme: "http" | "https"): Denied | null {
  const { method, host, origin, site, page } = asking;
  if (host === null || asking.hostLines > 1)
    return { status: 400, code: "host", message: "A request names one host." };
  if (!names.has(host.toLowerCase()) || !names.has(asking.target.toLowerCase()))
    return { status: 421, code: "host", message: "This server does not answer under that name." };
  if (!reads.has(method) && !changes.has(method))
    return { status: 405, code: "method", message: "This server takes GET, HEAD, POST and PUT." };
  if (origin !== null && origin.toLowerCase() !== `${scheme}://${host.toLowerCase()}`)
    return { status: 403, code: "origin", message: "Another site may not ask this server." };
  if (site !== null && site !== "same-origin" && site !== "none")
    return { status: 403, code: "origin", message: "Another site may not ask this server." };
  // a page's address may be opened by hand, a change never is
  if (changes.has(method) && site === "none")
    return { status: 403, code: "origin", message: "A change comes from the server's own page." };
  if (changes.has(method) && (page === null || !/^[A-Za-z0-9-]{1,64}$/.test(page)))
    return { status: 403, code: "page", message: "A change bears the id of the page that makes it." };
  return null;
}
