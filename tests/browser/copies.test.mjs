// A copy of a job on another browser: whole or not at all; two that went on
// apart and took in one another's; and the copy as the way back when a browser
// has lost its database. The job is invented.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { acts, hand, press, soon, stored } from "./journey.mjs";
import { openFile, openSaved, toJobs } from "./opened.mjs";
import { ROOT, newProfile, openApp, openBrowser, start, startServer, test, watchComplaints, watchRequests } from "./support.mjs";

const PHOTO = join(ROOT, "tests/fixtures/photos/phone_turned_with_position.jpg");
const TITLE = "Dashboard";
const ready = (page) => page.waitForSelector("body[data-ready]", { state: "attached" });

/// Saves a copy from the Job screen, and answers the file's bytes.
async function saveCopy(it) {
  await it.screen("Job");
  await it.tap("Save a copy");
  const download = it.page.waitForEvent("download");
  await it.tap("Hand it over");
  const file = await download;
  assert.match(file.suggestedFilename(), /^dashboard\b.*\.zip$/);
  await it.tap("It is saved");
  await it.page.getByText("Every entry is in the last copy.").waitFor();
  return readFileSync(await file.path());
}

/// Goes from the Put back screen to a part, places it, and back.
async function place(it, name) {
  await it.screen("Put back");
  await it.go(new RegExp(`^${name}$`));
  await it.title(name);
  await it.act("Place it", `Back: ${name}`);
}

/// What the screens say of the job, without what each phone says of itself.
async function told(it) {
  const text = [];
  for (const screen of ["Put back", "Audit"]) {
    await it.screen(screen);
    text.push(await it.page.getByRole("main").innerText());
  }
  return text.join("\n").replace(/\nCopy\n[^]*$/, "").replace(/^\d+ new entries were taken in\.$/gm, "");
}

const hashes = async (page) => (await stored(page)).photos.map((row) => row.hash);

test("a copy is whole on another browser or not there at all, and two that went on apart come to the same", async (t) => {
  const { complaints, open, page, server } = await start(t);
  await open();
  const it = hand(page);
  await openFile(it, TITLE, (say, work) => {
    for (let n = 1; n <= 13; n += 1) work.off(`panel ${n}`);
    work.place(work.off("trim", 1, { spec: "clip" }));
  });
  await it.screen("Put back");
  await it.go("trim");
  await it.title("trim");
  const chooser = page.waitForEvent("filechooser");
  await it.tap("Photo");
  await (await chooser).setFiles(PHOTO);
  await page.getByRole("link", { name: "Photo: trim" }).waitFor();
  await it.saved("Photo");
  const copy = await saveCopy(it);
  const first = await acts(page);

  const other = await openBrowser(t);
  const requests = watchRequests(other, server.origin);
  const page2 = other.pages()[0];
  const complaints2 = watchComplaints(page2);
  await openApp(page2, server.url);
  const it2 = hand(page2);
  // One byte changed: in the entries, in the page about them, in the photo.
  const photo = copy.indexOf(Buffer.from([0xff, 0xd8, 0xff]));
  for (const at of [copy.indexOf("panel 7"), copy.indexOf('"acts"') + 1, photo + 400]) {
    assert.ok(at > 400, "the copy has not in it what is to be changed");
    const harmed = Buffer.from(copy);
    harmed[at] ^= 1;
    await openSaved(it2, harmed);
    const notice = page2.getByRole("alert").or(page2.locator(".toast--stays")).first();
    await notice.waitFor();
    assert.match(await notice.innerText(), /^Nothing was taken/);
    const { acts, photos, thumbs } = await stored(page2);
    assert.deepEqual([acts, photos, thumbs], [[], [], []], `byte ${at}`);
    await it2.tap("Read");
    await notice.waitFor({ state: "detached" });
  }
  await openSaved(it2, copy);
  await it2.title(TITLE);
  assert.deepEqual(await acts(page2), first);
  const [here, there] = await Promise.all([hashes(page), hashes(page2)]);
  assert.equal(here.length, 1);
  assert.deepEqual(there, here);

  // They go on apart: four here, nine there, and both fit the clip.
  const apart = async (it, from, to) => {
    for (let n = from; n <= to; n += 1) await place(it, `panel ${n}`);
    await it.screen("Put back");
    await it.go("trim");
    await it.title("trim");
    await it.act("All 1 started by hand", "Started: 1 × clip");
  };
  await Promise.all([apart(it, 1, 4), apart(it2, 5, 13)]);
  const [mine, theirs] = [await saveCopy(it), await saveCopy(it2)];
  // Each opens the other's, as it was before the two met.
  for (const [hand, from] of [[it, theirs], [it2, mine]]) {
    await toJobs(hand);
    await openSaved(hand, from);
    await hand.title(TITLE);
  }
  const both = await acts(page);
  const ids = (all) => all.map((act) => act.id).sort();
  assert.deepEqual(ids(await acts(page2)), ids(both));
  assert.equal(both.length, first.length + 13 + 2);
  const words = await told(it);
  assert.equal(await told(it2), words);
  assert.match(words, /^Put back\n14\nof 14$/m);
  assert.match(words, /The same was said on two phones: Started: 1 × clip of trim/);
  assert.deepEqual([complaints, complaints2, requests.strays()], [[], [], []]);
});

test("a browser that lost its database says so, and the saved copy brings all of it back", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await openFile(it, TITLE, (say, work) => {
    work.off("cowl", 2);
    work.off("trim", 2);
  });
  await place(it, "cowl");
  const copy = await saveCopy(it);
  const before = await acts(page);
  // Deleted from a page that is not the app, so that nothing holds it open.
  const gone = async () => {
    await page.goto(page.url().replace(/#.*/, "manifest.webmanifest"));
    await page.evaluate(
      () =>
        new Promise((resolve, reject) => {
          const request = indexedDB.deleteDatabase("countback");
          request.onsuccess = resolve;
          request.onerror = request.onblocked = reject;
        }),
    );
    await open();
  };
  await gone();
  const banner = page.getByText("Entries are missing on this phone");
  await banner.waitFor();
  await page.getByText(new RegExp(`^${before.length} entries that were saved here are not there any more`)).waitFor();
  assert.deepEqual(await acts(page), []);
  // It is said again until it was read or put right.
  await page.reload();
  await ready(page);
  await banner.waitFor();
  await page.getByRole("link", { name: "Open a saved copy" }).tap();
  await it.title("Jobs");
  await openSaved(it, copy);
  await it.title(TITLE);
  assert.deepEqual(await acts(page), before);
  await banner.waitFor({ state: "detached" });
  await page.reload();
  await ready(page);
  await it.title(TITLE);
  assert.equal(await banner.count(), 0);
  await place(it, "trim");
  // One line that cannot be read any more: the copy and what can still be read
  // here are brought together, in place of what there is.
  const whole = await acts(page);
  await page.evaluate(async () => {
    const wait = (request) =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const base = await wait(indexedDB.open("countback"));
    const acts = base.transaction("acts", "readwrite").objectStore("acts");
    const [keys, rows] = [await wait(acts.getAllKeys()), await wait(acts.getAll())];
    const at = rows.findIndex((row) => row.seq === 3);
    await wait(acts.put({ ...rows[at], line: rows[at].line.slice(0, -9) }, keys[at]));
    base.close();
  });
  await page.goto(page.url().replace(/#.*/, "#/"));
  await page.reload();
  await ready(page);
  const damaged = page.getByText("A job here cannot be read");
  await damaged.waitFor();
  await page.getByRole("link", { name: "Open a saved copy" }).tap();
  await it.title("Jobs");
  await openSaved(it, copy);
  await it.title(TITLE);
  assert.deepEqual(await acts(page), whole);
  await damaged.waitFor({ state: "detached" });
  assert.equal(whole.length, before.length + 1);
  assert.deepEqual(complaints, []);
});
