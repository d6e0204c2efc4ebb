// The app's WASM comes in two files. A start gets by with the first; what is
// in the second works whenever it comes, and if it cannot be had, the app says
// so and writes nothing.
import assert from "node:assert/strict";
import { readdirSync } from "node:fs";
import { openDemo } from "./app.mjs";
import { hand, newJob } from "./journey.mjs";
import { DIST, openApp, readyOffline, start, test } from "./support.mjs";

const DEMO = "Cooling pump and front cover";
const FILE = readdirSync(DIST).find((name) => name.endsWith("_later.wasm"));
const marks = (page, name) =>
  page.evaluate((name) => performance.getEntriesByName(name).length, name);
const joined = (page) =>
  page.waitForFunction(() => performance.getEntriesByName("later:joined").length > 0);

test("starts need only the first file, and a screen of the second has both", async (t) => {
  const { context, open, page, server, complaints } = await start(t);
  await open();
  await joined(page);
  assert.equal(await marks(page, "later:now"), 0);
  await openDemo(page, DEMO);
  await readyOffline(page);

  // Open on the demo job, from the worker's cache.
  await page.reload();
  await page.getByRole("heading", { level: 1, name: DEMO }).waitFor();
  await joined(page);
  assert.equal(await marks(page, "later:now"), 0, "the Job screen needs the second file");

  const it = hand(page);
  await it.screen("Put back");
  const again = await context.newPage();
  await page.close();
  await openApp(again, server.url);
  await hand(again).title("Put back");
  assert.equal(await marks(again, "later:now"), 0, "the second file was fetched while the page stood still");
  assert.deepEqual(complaints, []);
});

test("what a start reads is asked for once, while the WASM is on its way", async (t) => {
  const { context, open, page, complaints } = await start(t);
  await open();
  await openDemo(page, DEMO);
  await context.addInitScript(() => {
    const opening = IDBFactory.prototype.open;
    globalThis.opened = [];
    IDBFactory.prototype.open = function (...asked) {
      globalThis.opened.push(asked.join(" "));
      return opening.apply(this, asked);
    };
  });
  const opened = async () => {
    await page.reload();
    await page.getByRole("heading", { level: 1, name: DEMO }).waitFor();
    await joined(page);
    return page.evaluate(() => globalThis.opened);
  };
  assert.deepEqual(await opened(), ["countback 1"]);
  const text = await page.getByRole("main").innerText();

  // An answer to another question, and one that no app can read, are left.
  const said = async (change) => {
    await page.evaluate((change) => {
      const now = JSON.parse(localStorage.getItem("countback.first"));
      localStorage.setItem("countback.first", change === "garbage" ? "{" : JSON.stringify({ ...now, ...change }));
    }, change);
    const times = (await opened()).filter((it) => it.startsWith("countback ")).length;
    assert.equal(await page.getByRole("main").innerText(), text);
    return times;
  };
  assert.equal(await said({ rows: null }), 2);
  // The question is put down again, and is the right one.
  assert.deepEqual(await opened(), ["countback 1"]);
  assert.equal(await said("garbage"), 1);
  assert.equal(await said({ version: 99 }), 2);
  assert.deepEqual(complaints, []);
});

test("a tap before the second file is there goes on when it is", async (t) => {
  const { open, page, server } = await start(t, { context: { serviceWorkers: "block" } });
  await server.fault(`status 503 ${FILE}`);
  await open();
  await page.waitForResponse((answer) => answer.url().endsWith(FILE) && answer.status() === 503);
  await server.clearFaults();
  const it = hand(page);
  await newJob(it, { title: "Belt" });
  assert.equal(await marks(page, "later:now"), 1);
  await joined(page);
  await it.screen("Audit");
  await page.reload();
  await it.title("Audit");
});

test("without the second file the app stops, says so, and a reload mends it", async (t) => {
  const { open, page, server } = await start(t, { context: { serviceWorkers: "block" } });
  await server.fault(`status 503 ${FILE}`);
  await open();
  const it = hand(page);
  await it.go("New job");
  const notice = page.getByRole("alertdialog");
  await notice.waitFor();
  assert.match(await notice.textContent(), /A part of the app is missing.*Nothing more is written/);
  assert.equal(await page.evaluate(() => countback.stop.stopped), true);

  // The next start waits for both, and does not begin without.
  await notice.getByRole("link").click();
  await page.getByRole("alert").filter({ hasText: "did not start" }).waitFor();
  await server.clearFaults();
  await page.getByRole("link", { name: "Try again" }).click();
  await page.waitForSelector("body[data-ready]", { state: "attached" });
  await newJob(it, { title: "Belt" });
});
