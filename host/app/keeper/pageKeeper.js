/**
 * Keeps the page itself, so that it opens while the server is away. It keeps files of the build and nothing else: what lies
 * under /api is always the server's. The build writes its own version and files into the first two lines.
 */
const version = "";
const files = [];

const own = `fairbout-page-${version}`;
/** How long the server may take to hand out the page before the kept one is shown, milliseconds. */
const patience = 4000;

addEventListener("install", (event) => {
  event.waitUntil(
    caches
      .open(own)
      .then((cache) => cache.addAll(files.map((file) => new Request(file, { cache: "no-cache" }))))
      .then(() => skipWaiting()),
  );
});

addEventListener("activate", (event) => {
  event.waitUntil(
    caches
      .keys()
      // A page of the version before may still be open and load a part of it: that one stays.
      .then((names) => names.filter((name) => name.startsWith("fairbout-page-") && name !== own).slice(0, -1))
      .then((old) => Promise.all(old.map((name) => caches.delete(name))))
      .then(() => clients.claim()),
  );
});

addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin || /^\/api(\/|$)/.test(pathname)) return;
  if (request.mode === "navigate") event.respondWith(newestPage(request));
  else if (files.includes(pathname) || pathname.startsWith("/assets/"))
    event.respondWith(keptOrAsked(request));
});

/** The server's page; while the server is away, or fails, the kept one. */
async function newestPage(request) {
  try {
    const answer = await fetch(request.url, { signal: AbortSignal.timeout(patience), redirect: "error" });
    if (answer.ok) return answer;
    return answer.status >= 500 ? ((await kept("/")) ?? answer) : answer;
  } catch {
    return (await kept("/")) ?? Response.error();
  }
}

/** Files whose names change with their content: kept is as good as new. */
async function keptOrAsked(request) {
  return (await kept(request.url)) ?? fetch(request);
}

async function kept(url) {
  const options = { ignoreVary: true };
  return (await (await caches.open(own)).match(url, options)) ?? caches.match(url, options);
}
