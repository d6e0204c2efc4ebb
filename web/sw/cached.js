// What to cache: the files of this build, each with its hash, in a cache of
// their own. The build puts BUILD and FILES above this text. No other file is
// ever kept, and no data of the user passes through here.

const PREFIX = "countback-shell-";
const CACHE = PREFIX + BUILD;
const HASHES = new Map(FILES.map(({ path, sha256 }) => [addressOf(path), sha256]));
const PAGE = addressOf("./");

function addressOf(path) {
  return new URL(path, self.registration.scope).href;
}

async function sha256(bytes) {
  const digest = await crypto.subtle.digest("SHA-256", bytes);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

// Fetches one file past the browser's own cache, which may hold an older copy,
// and puts it away only if it is the file that this build was made with.
async function fetchInto(cache, address) {
  const answer = await fetch(address, { cache: "reload", credentials: "same-origin" });
  if (!answer.ok) throw new Error(address + " answered " + answer.status);
  const bytes = await answer.arrayBuffer();
  if ((await sha256(bytes)) !== HASHES.get(address)) {
    throw new Error(address + " is not the file of build " + BUILD);
  }
  const headers = new Headers(answer.headers);
  headers.delete("content-encoding");
  headers.delete("content-length");
  // Streaming compile needs the right type; a host that does not know it
  // must not slow down every later start.
  if (address.endsWith(".wasm")) headers.set("content-type", "application/wasm");
  // A new Response also drops the mark of a redirect, which a navigation
  // would refuse.
  await cache.put(address, new Response(bytes, { headers }));
}

// All or nothing: a file that cannot be had leaves the running version alone.
async function fillCache() {
  const cache = await caches.open(CACHE);
  const wanted = [...HASHES.keys()];
  try {
    await inTurns(wanted, 6, (address) => fetchInto(cache, address));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

async function isWhole(cache, address) {
  const answer = await cache.match(address);
  return Boolean(answer) && (await sha256(await answer.arrayBuffer())) === HASHES.get(address);
}

// Reads every kept file again. What is missing or damaged is fetched once
// more; a file that then matches is the same file, so no version is mixed.
async function verify() {
  const cache = await caches.open(CACHE);
  const missing = [];
  await inTurns([...HASHES.keys()], 4, async (address) => {
    if (await isWhole(cache, address)) return;
    try {
      await fetchInto(cache, address);
    } catch {
      missing.push(address);
    }
  });
  return { ok: missing.length === 0, missing, build: BUILD };
}

// Only caches of our own that belong to another build.
async function deleteStrangers() {
  const names = await caches.keys();
  const strangers = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(strangers.map((name) => caches.delete(name)));
}

async function inTurns(items, width, act) {
  const queue = [...items];
  const turn = async () => {
    for (let item = queue.shift(); item !== undefined; item = queue.shift()) await act(item);
  };
  await Promise.all(Array.from({ length: width }, turn));
}
