// What happens to the worker and what the page may ask of it. It never skips
// waiting by itself: an old page must not be handed files of a new build.

self.addEventListener("install", (event) => {
  event.waitUntil(fillCache());
});

self.addEventListener("activate", (event) => {
  event.waitUntil(deleteStrangers());
});

self.addEventListener("fetch", (event) => {
  if (isOurs(event.request)) event.respondWith(answer(event.request));
});

// kind "skip":   the person accepted the update; take over.
// kind "verify": read every file again; answers {ok, missing, build}.
// kind "claim":  a page of the first visit asks to be served from the cache
//                from now on. Granted only to a page of the very same build,
//                so glue of one build never meets WASM of another.
self.addEventListener("message", (event) => {
  const { kind, build } = event.data ?? {};
  const port = event.ports[0];
  if (kind === "skip") {
    event.waitUntil(self.skipWaiting());
  } else if (kind === "verify") {
    event.waitUntil(verify().then((report) => port?.postMessage(report)));
  } else if (kind === "claim" && build === BUILD) {
    event.waitUntil(self.clients.claim());
  }
});
