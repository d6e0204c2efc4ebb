// How a request is answered: from this build's cache, and from the network
// only for what the cache never held. Nothing waits for a network that may
// hang, and no answer from the network is kept.

async function answer(request) {
  const cache = await caches.open(CACHE);
  const address = request.mode === "navigate" ? PAGE : withoutFragment(request.url);
  const kept = await cache.match(address);
  // A file that went missing under us is fetched as it would be without a
  // worker; `verify` puts it back into the cache.
  return kept ?? fetch(request);
}

// Whether the worker answers at all: reads within its own scope.
function isOurs(request) {
  return request.method === "GET" && request.url.startsWith(self.registration.scope);
}

function withoutFragment(address) {
  const url = new URL(address);
  url.hash = "";
  return url.href;
}
