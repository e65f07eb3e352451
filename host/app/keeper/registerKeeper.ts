/** Has the browser keep the page for when the server is away. Without it everything works but a reload at such a time. */
export function registerKeeper(): void {
  if (!("serviceWorker" in navigator)) return;
  // A browser that doesn't trust the certificate of a paired tablet refuses; nothing else depends on it.
  navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" }).catch(() => {});
}
