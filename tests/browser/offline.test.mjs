// With no network at all: the app opens cold, saves, and asks for nothing; a
// new version comes only when it is taken.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { openDemo } from "./app.mjs";
import { acts, hand, newJob, press, stored, takeOff, toPart } from "./journey.mjs";
import { DIST, newProfile, openApp, openBrowser, readyOffline, start, startServer, test, watchComplaints, watchRequests } from "./support.mjs";
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

test("examples and procedures open for the first time with the server stopped", async (t) => {
  const { complaints, context, open, page, server } = await start(t);
  await open();
  await readyOffline(page);
  await server.resetHits();
  await server.stop();
  // What the browser keeps by itself does not help.
  const session = await context.newCDPSession(page);
  await session.send("Network.clearBrowserCache");
  const { jobs, procedures } = JSON.parse(readFileSync(join(DIST, "demo-jobs/index.json"), "utf8"));
  assert.ok(jobs.length >= 2 && procedures.length >= 3);
  const of = (name) => readFileSync(join(DIST, "demo-jobs", name), "utf8");
  const it = hand(page);
  let lines = 0;
  const pictures = new Set();
  for (const { files } of jobs) {
    const named = (ending) => Object.keys(files).filter((name) => name.endsWith(ending));
    const { title } = JSON.parse(of(named("/about.json")[0]));
    await openDemo(page, title);
    lines += of(named("/job.jsonl")[0]).trim().split("\n").length;
    for (const name of named(".png").filter((name) => name.includes("/photos/"))) pictures.add(name.match(/([0-9a-f]{64})/)[1]);
    assert.equal((await acts(page)).length, lines, title);
    assert.equal((await stored(page)).photos.length, pictures.size, title);
    await page.evaluate(() => (location.hash = "#/"));
    await it.title("Jobs");
  }
  for (const { title, parts } of procedures.map(({ file }) => JSON.parse(of(file)))) {
    await it.go("New job");
    await it.type("Machine", "the van");
    await it.type("Who is at work", "Ann");
    const offered = page.getByRole("group", { name: "Start from a procedure", exact: true });
    await press(offered.getByRole("button", { name: title, exact: true }));
    await it.tap("Open the job");
    await it.title(title);
    await it.screen("Take off");
    const planned = page.getByRole("group", { name: "From the procedure", exact: true }).getByRole("button");
    await planned.first().waitFor();
    assert.ok(parts.some((part) => part.name) && (await planned.count()) > 0, title);
    await page.evaluate(() => (location.hash = "#/"));
    await it.title("Jobs");
  }
  await server.start();
  assert.deepEqual(await server.hits(), []);
  assert.deepEqual(complaints, []);
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
