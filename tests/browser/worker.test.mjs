// The service worker: whole versions only, no network needed once one is
// kept, updates wait for the person, and a bad one changes nothing.
import assert from "node:assert/strict";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import {
  DIST, newProfile, openBrowser, processOf, readyOffline, start, startServer, test,
} from "./support.mjs";
import { markOf, nextVersion } from "./versions.mjs";

const WASM = readdirSync(DIST).find((name) => /^app-.*_bg\.wasm$/.test(name));

async function install(page, url) {
  await page.goto(url);
  await page.evaluate(() =>
    navigator.serviceWorker.register("./sw.js", { updateViaCache: "none" }).then(() => {}),
  );
  await readyOffline(page);
}

// Looks for a new version and answers what became of it.
const update = (page) =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    await registration.update().catch(() => {});
    const worker = registration.installing ?? registration.waiting;
    if (!worker) return "none";
    if (worker.state === "installing") {
      await new Promise((done) => worker.addEventListener("statechange", done, { once: true }));
    }
    return worker.state;
  });

const cacheNames = (page) => page.evaluate(() => caches.keys());

test("with the server stopped and the browser started again, the app opens", async (t) => {
  const server = await startServer(t);
  const profile = newProfile();
  let context = await openBrowser(t, { profile });
  await install(context.pages()[0], server.url);
  await context.close();
  await server.stop();

  context = await openBrowser(t, { profile });
  const page = context.pages()[0];
  await page.goto(server.url + "#/audit");
  assert.equal(await page.title(), "Countback");
  assert.equal(await page.locator("[role=alert]").count(), 0);
  const type = await page.evaluate((name) => fetch(name).then((r) => r.headers.get("content-type")), WASM);
  assert.equal(type, "application/wasm");
  // Its own files still come, others fail as the network does.
  await assert.rejects(page.evaluate(() => fetch("./none.txt")));
});

test("a network that hangs does not delay the start", async (t) => {
  const { server, page } = await start(t);
  await install(page, server.url);
  await page.reload();
  await server.fault("hang /");
  const begun = Date.now();
  await page.goto(server.url, { waitUntil: "domcontentloaded" });
  assert.equal(await page.title(), "Countback");
  assert.ok(Date.now() - begun < 3000, `took ${Date.now() - begun} ms`);
  await server.clearFaults();
});

for (const [what, fault] of [
  ["answers 500 for one file", () => `status 500 ${WASM}`],
  ["sends other bytes for one file", () => `body ${join(DIST, "index.html")} ${WASM}`],
]) {
  test(`an update whose host ${what} leaves the old version working`, async (t) => {
    const { server, page } = await start(t);
    await install(page, server.url);
    const before = await cacheNames(page);
    await server.serve(nextVersion("two").folder);
    await server.fault(fault());
    assert.equal(await update(page), "redundant");
    assert.deepEqual(await cacheNames(page), before);
    await server.stop();
    await page.reload();
    assert.equal(await markOf(page), null);
    await readyOffline(page);
    await server.start();
    // The same update works once the host does.
    await server.serve(nextVersion("two").folder);
    assert.equal(await update(page), "installed");
  });
}

// The old version is whole without the server, and the new one comes when it can.
async function oldOneStands(server, page) {
  await server.stop();
  await page.goto(server.url);
  await page.waitForSelector("body[data-ready]", { state: "attached" });
  assert.equal(await markOf(page), null);
  await readyOffline(page);
  await server.start();
}

test("an update that finds no room leaves the old version whole", async (t) => {
  const server = await startServer(t);
  const profile = newProfile();
  let context = await openBrowser(t, { profile });
  await install(context.pages()[0], server.url);
  const { usage } = await context.pages()[0].evaluate(() => navigator.storage.estimate());
  await context.close();
  context = await openBrowser(t, { profile });
  const page = context.pages()[0];
  const session = await context.newCDPSession(page);
  const quota = (quotaSize) =>
    session.send("Storage.overrideQuotaForOrigin", { origin: server.origin, ...(quotaSize && { quotaSize }) });
  // Room for a part of it.
  await quota(usage + 500_000);
  await page.goto(server.url);
  const before = await cacheNames(page);
  await server.serve(nextVersion("two").folder);
  assert.equal(await update(page), "redundant");
  assert.deepEqual(await cacheNames(page), before);
  await oldOneStands(server, page);
  await quota();
  await server.serve(nextVersion("two").folder);
  assert.equal(await update(page), "installed");
});

test("the browser killed in the middle of an update leaves the old version whole", async (t) => {
  const server = await startServer(t);
  const profile = newProfile();
  let context = await openBrowser(t, { profile, whole: true });
  let page = context.pages()[0];
  await install(page, server.url);
  const { folder, build } = nextVersion("two");
  await server.serve(folder);
  await server.fault("hang manifest");
  const kept = () =>
    page.evaluate(async (name) => ((await caches.has(name)) ? (await (await caches.open(name)).keys()).length : 0), `countback-shell-${build}`);
  await page.evaluate(async () => void (await navigator.serviceWorker.getRegistration()).update());
  // All are there but the one that hangs.
  const most = JSON.parse(readFileSync(join(folder, "sw.js"), "utf8").match(/const FILES = (\[.*\]);/)[1]).length - 1;
  let n = 0;
  for (const end = Date.now() + 20_000; n < most && Date.now() < end; n = await kept()) await page.waitForTimeout(50);
  assert.equal(n, most, "files of the new version");
  const gone = new Promise((done) => context.once("close", done));
  process.kill(processOf(profile), "SIGKILL");
  await gone;

  await server.clearFaults();
  context = await openBrowser(t, { profile, whole: true });
  page = context.pages()[0];
  await oldOneStands(server, page);
  await server.serve(folder);
  assert.equal(await update(page), "installed");
});

test("an old copy in the browser's own cache is not taken for the new file", async (t) => {
  const { server, page } = await start(t);
  await server.fault("age 86400 manifest");
  await install(page, server.url);
  await page.evaluate(() => fetch("./manifest.webmanifest", { cache: "force-cache" }));
  const { folder } = nextVersion("two");
  // The manifest keeps its name and changes its bytes.
  const path = join(folder, "manifest.webmanifest");
  const old = readFileSync(path, "utf8");
  const fresh = old.replace("Countback", "Countback two");
  const { createHash } = await import("node:crypto");
  const sha = (text) => createHash("sha256").update(text).digest("hex");
  writeFileSync(path, fresh);
  const worker = join(folder, "sw.js");
  writeFileSync(worker, readFileSync(worker, "utf8").replace(sha(old), sha(fresh)));
  await server.serve(folder);
  assert.equal(await update(page), "installed");
});

test("an update waits until it is accepted, then replaces the old one whole", async (t) => {
  const { server, page } = await start(t);
  await install(page, server.url);
  await page.reload();
  await page.evaluate(() => caches.open("not-ours"));
  const old = (await cacheNames(page)).filter((name) => name.startsWith("countback-shell-"));
  const { folder, build } = nextVersion("two");
  await server.serve(folder);
  assert.equal(await update(page), "installed");
  // Opening it again does not bring the new version in.
  await page.reload();
  assert.equal(await markOf(page), null);
  // A worker that is told to give way in the middle of its work may stay in
  // office for minutes: the app waits for it, and so does this.
  await page.waitForFunction(() => performance.getEntriesByName("worker:verified").length > 0);
  await page.evaluate(async () => {
    const changed = new Promise((done) =>
      navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }),
    );
    const { waiting } = await navigator.serviceWorker.getRegistration();
    waiting.postMessage({ kind: "skip" });
    await changed;
  });
  await page.goto(server.url);
  assert.equal(await markOf(page), "two");
  await readyOffline(page);
  const names = await cacheNames(page);
  assert.ok(names.includes("not-ours") && names.includes(`countback-shell-${build}`), names.join());
  assert.ok(!names.includes(old[0]), names.join());
});

test("files lost or damaged are named, and put back when the host answers", async (t) => {
  const { server, page } = await start(t);
  await install(page, server.url);
  const verify = () =>
    page.evaluate(async () => {
      const { active } = await navigator.serviceWorker.ready;
      return new Promise((resolve) => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = (event) => resolve(event.data);
        active.postMessage({ kind: "verify" }, [port2]);
      });
    });
  await page.evaluate(async (wasm) => {
    const [name] = await caches.keys();
    const cache = await caches.open(name);
    await cache.put(wasm, new Response("damaged"));
    await cache.delete("./manifest.webmanifest");
  }, WASM);
  await server.stop();
  const away = await verify();
  assert.equal(away.ok, false);
  assert.deepEqual(
    away.missing.sort(),
    [server.url + WASM, server.url + "manifest.webmanifest"].sort(),
  );
  await server.start();
  assert.deepEqual((await verify()).missing, []);
});

test("a first visit is claimed only by a page of the worker's own build", async (t) => {
  const { server, page } = await start(t);
  // The app itself would claim its worker; here only the test asks.
  await page.route(/\/app-[^/]*\.js$/, (route) => route.abort());
  await install(page, server.url);
  const claim = (build) =>
    page.evaluate(async (build) => {
      const { active } = await navigator.serviceWorker.ready;
      active.postMessage({ kind: "claim", build });
      await new Promise((done) => setTimeout(done, 300));
    }, build);
  const controlled = () => page.evaluate(() => Boolean(navigator.serviceWorker.controller));
  await claim("another build");
  assert.equal(await controlled(), false);
  await claim(await page.evaluate(() => globalThis.countback.build));
  assert.equal(await controlled(), true);
});

test("a host that names the wrong type for WASM still starts the app", async (t) => {
  const { server, page } = await start(t);
  await server.fault("mime text/plain .wasm");
  await page.goto(server.url);
  await page.waitForFunction(() => globalThis.countback?.load("app").then(() => true));
  assert.equal(await page.locator("[role=alert]").count(), 0);
});

test("a start that fails says so and that nothing was touched", async (t) => {
  const { server, page } = await start(t);
  await server.fault("status 500 .wasm");
  await page.goto(server.url);
  const notice = page.getByRole("alert");
  await notice.waitFor();
  assert.match(await notice.innerText(), /has not been touched/);
  await server.clearFaults();
  await notice.getByRole("link", { name: "Try again" }).click();
  await notice.waitFor({ state: "detached" });
  await page.waitForFunction(() => globalThis.countback?.load("app").then(() => true));
  assert.equal(await page.locator("[role=alert]").count(), 0);
});

test("the app says when it needs no network, and takes a new version only when asked", async (t) => {
  const { server, page, open } = await start(t);
  await open("#/settings");
  await page.getByText("the app works with no network").waitFor();
  await server.serve(nextVersion("two").folder);
  await page.reload();
  const take = page.getByRole("button", { name: "Take the new version" });
  await take.waitFor();
  assert.equal(await markOf(page), null);
  let loads = 0;
  page.on("load", () => (loads += 1));
  await take.click();
  await page.waitForFunction(() => document.querySelector('meta[name="mark"]')?.content === "two");
  await page.waitForTimeout(1000);
  assert.equal(loads, 1);
});

test("Chromium finds the app fit to be installed, and would say if it were not", async (t) => {
  const { server, page, open, context } = await start(t, { profile: newProfile(), whole: true });
  await open();
  await readyOffline(page);
  const session = await context.newCDPSession(page);
  const errors = async () =>
    (await session.send("Page.getInstallabilityErrors")).installabilityErrors.map((it) => it.errorId);
  assert.deepEqual((await session.send("Page.getAppManifest")).errors, []);
  assert.deepEqual(await errors(), []);
  await page.evaluate(() => document.querySelector('link[rel="manifest"]').remove());
  // The browser takes note of the missing link in its own time.
  let without = await errors();
  for (let tries = 0; without.length === 0 && tries < 100; tries += 1) {
    await new Promise((done) => setTimeout(done, 100));
    without = await errors();
  }
  assert.notDeepEqual(without, []);
  assert.deepEqual((await server.hits()).filter((hit) => hit.status !== 200), []);
});
