import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { extname, join } from "node:path";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";
import { type Context, Hono } from "hono";
import { refuse } from "./answer.ts";

const types: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".mjs": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json",
  ".webmanifest": "application/manifest+json",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".ico": "image/x-icon",
  ".webp": "image/webp",
  ".woff2": "font/woff2",
  ".wasm": "application/wasm",
  ".wav": "audio/wav",
  ".txt": "text/plain; charset=utf-8",
};
/** Formats that are compressed in themselves. */
const packed = new Set([".png", ".ico", ".webp", ".woff2"]);

type Coding = "br" | "gzip" | "identity";

interface PageFile {
  readonly type: string;
  readonly cache: string;
  readonly tag: string;
  readonly bytes: (coding: Coding) => Uint8Array<ArrayBuffer>;
  readonly codings: readonly Coding[];
}

/**
 * The built page, read once. A path is looked up among the files that are there, so nothing outside the folder can be named,
 * however it is spelled. Files whose names change with their content may be kept for ever; the others are asked for again.
 */
export function pageFiles(folder: string): Hono {
  const files = new Map<string, PageFile>();
  const names = existsSync(folder) ? readdirSync(folder, { recursive: true, encoding: "utf8" }) : [];
  for (const name of names) {
    const path = join(folder, name);
    const type = types[extname(name)];
    if (type === undefined || !statSync(path).isFile()) continue;
    files.set(`/${name.replaceAll("\\", "/")}`, pageFile(path, name, type));
  }
  const index = files.get("/index.html");
  if (index !== undefined) files.set("/", index);

  const app = new Hono();
  app.get("*", (c) => {
    const path = decoded(c.req.path);
    const file = path === null ? undefined : files.get(path);
    if (file !== undefined) return handOut(c, file);
    const message =
      index === undefined
        ? "The page is not built: npm start builds it."
        : "There is nothing here. The bench is at the address without anything after it.";
    return refuse(c, 404, { code: "absent", message });
  });
  return app;
}

function decoded(path: string): string | null {
  try {
    return decodeURIComponent(path);
  } catch {
    return null;
  }
}

function pageFile(path: string, name: string, type: string): PageFile {
  const raw = new Uint8Array(readFileSync(path));
  const made = new Map<Coding, Uint8Array<ArrayBuffer>>([["identity", raw]]);
  const hashed = /[/\\]?assets[/\\].*-[A-Za-z0-9_-]{8}\.\w+$/.test(name);
  return {
    type,
    cache: hashed ? "public, max-age=31536000, immutable" : "no-cache",
    tag: createHash("sha256").update(raw).digest("hex").slice(0, 20),
    codings: packed.has(extname(name)) || raw.length < 1000 ? ["identity"] : ["br", "gzip", "identity"],
    bytes: (coding) => {
      const before = made.get(coding);
      if (before !== undefined) return before;
      const bytes = compressed(path, raw, coding);
      made.set(coding, bytes);
      return bytes;
    },
  };
}

/** What the build compressed as small as can be, or else what can be done at once. */
function compressed(path: string, raw: Uint8Array, coding: Coding): Uint8Array<ArrayBuffer> {
  const beside = `${path}.${coding === "br" ? "br" : "gz"}`;
  if (existsSync(beside)) return new Uint8Array(readFileSync(beside));
  if (coding === "gzip") return new Uint8Array(gzipSync(raw));
  return new Uint8Array(brotliCompressSync(raw, { params: { [constants.BROTLI_PARAM_QUALITY]: 5 } }));
}

/** The content coding a request likes best of those there are: RFC 9110, 12.5.3. */
export function chosenCoding(accepts: string, codings: readonly Coding[]): Coding {
  const weights = new Map(
    accepts.split(",").map((part) => {
      const [name = "", ...parameters] = part.split(";").map((word) => word.trim().toLowerCase());
      const weight = parameters.find((word) => word.startsWith("q="));
      return [name, weight === undefined ? 1 : Number(weight.slice(2))] as const;
    }),
  );
  const weight = (coding: Coding) =>
    weights.get(coding) ?? weights.get("*") ?? (coding === "identity" ? 1e-3 : 0);
  let best: Coding = "identity";
  for (const coding of codings) if (weight(coding) > weight(best)) best = coding;
  // of equals the smallest, and those are listed in that order
  return codings.find((coding) => weight(coding) >= weight(best) && weight(coding) > 0) ?? "identity";
}

function handOut(c: Context, file: PageFile): Response {
  const coding = chosenCoding(c.req.header("accept-encoding") ?? "", file.codings);
  const tag = `"${file.tag}-${coding}"`;
  const headers = { "cache-control": file.cache, etag: tag, vary: "accept-encoding" };
  const known = c.req
    .header("if-none-match")
    ?.split(",")
    .map((word) => word.trim().replace(/^W\//, ""));
  if (known?.includes(tag)) return c.body(null, 304, headers);
  const bytes = file.bytes(coding);
  return c.body(bytes, 200, {
    ...headers,
    "content-type": file.type,
    "content-length": String(bytes.length),
    ...(coding === "identity" ? {} : { "content-encoding": coding }),
  });
}
