// With no network at all: the app opens cold, saves, and asks for nothing; a
// new version comes only when it is taken.
import assert from "node:assert/strict";
import { acts, hand, newJob, takeOff, toPart } from "./journey.mjs";
import { newProfile, openApp, openBrowser, readyOffline, start, startServer, test, watchComplaints, watchRequests } from "./support.mjs";
import { markOf, nextVersion } from "./versions.mjs";

test("cold, with the server stopped: opens where it was, saves, and needs no request", async (t) => {
  const server = await startServer(t);
  const profile = newProfile();
  let context = await openBrowser(t, { profile });
  let page = context.pages()[0];
  await openApp(page, server.url);
  let it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await takeOff(it, "cover", { sizes: [/^M6 x 20\b/] });
  await toPart(it, "cover");
  const before = (await acts(page)).length;
  await readyOffline(page);
  await context.close();
  await server.resetHits();
  await server.stop();

  context = await openBrowser(t, { profile });
  page = context.pages()[0];
  const requests = watchRequests(context, server.origin);
  const complaints = watchComplaints(page);
  await openApp(page, server.url);
  it = hand(page);
  const reopened = await page.getByRole("heading", { level: 1 }).innerText();
  if (reopened === "Jobs") {
    await it.go(/^Water pump/);
    await it.title("Water pump");
    await toPart(it, "cover");
  }
  await it.act("Place it", "Back: cover");
  await it.act("All 2 started by hand", "Started: 2 × M6 x 20");
  await it.screen("Take off");
  await takeOff(it, "bracket", { sizes: [/^M8 x 25\b/] });
  const after = await acts(page);
  assert.ok(after.length > before);
  assert.deepEqual(complaints, []);
  assert.deepEqual(requests.strays(), []);

  // Nothing was put off until the server is there again, either.
  await server.start();
  assert.deepEqual(await server.hits(), []);
  await server.stop();

  // All of it is there again after one more cold start.
  await context.close();
  context = await openBrowser(t, { profile });
  page = context.pages()[0];
  await openApp(page, server.url);
  assert.deepEqual(await acts(page), after);
  assert.equal(reopened, "cover", "it did not open where it was");
});

test("the settings say when the app works with no network, and that nothing is sent", async (t) => {
  const { open, page, requests, server } = await start(t);
  await open("#/settings");
  const main = page.getByRole("main");
  await main.getByText("the app works with no network").waitFor();
  await main.getByText("Nothing is sent anywhere").waitFor();
  await readyOffline(page);
  assert.deepEqual(requests.strays(), []);
  assert.ok(requests.all.every((url) => url.startsWith(server.url) || !url.startsWith("http")));
});

test("a new version is offered, waits, and comes when it is taken", async (t) => {
  const { open, page, server } = await start(t);
  await open();
  await readyOffline(page);
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await it.tap("cover");
  await it.tap(/^M6 x 20\b/);
  const { folder } = nextVersion("two");
  await server.serve(folder);

  // The app is opened again later and looks for itself.
  await page.reload();
  const offer = page.getByRole("button", { name: "Take the new version" });
  const offered = await offer.waitFor().then(() => true, () => false);
  if (!offered) {
    await page.evaluate(() => navigator.serviceWorker.getRegistration().then((it) => it.update()));
    await offer.waitFor();
  }
  // Nothing changes until then, however often it is loaded.
  assert.equal(await markOf(page), null);
  await page.reload();
  await offer.waitFor();
  assert.equal(await markOf(page), null);

  await offer.tap();
  await page.waitForFunction(() => document.querySelector('meta[name="mark"]')?.content === "two");
  await page.waitForSelector("body[data-ready]", { state: "attached" });
  // The entry that was being made is still there.
  await page.getByRole("button", { name: "cover", pressed: true }).waitFor();
  await page.getByRole("group", { name: /^M6 x 20/ }).waitFor();
  await server.stop();
  await page.reload();
  assert.equal(await markOf(page), "two");
  assert.ok(offered, "the app did not look for the new version by itself");
});
