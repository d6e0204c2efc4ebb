// What a browser does to what it keeps: it evicts all of an origin, its files
// are cut or harmed between two runs, a newer version has laid out the
// database. A loss is told and never greeted as a first run where anything
// is left that knows of it, and the saved copy brings all of it back.
import assert from "node:assert/strict";
import { cpSync, openSync, readFileSync, readdirSync, truncateSync, writeFileSync, writeSync, closeSync } from "node:fs";
import { join } from "node:path";
import { dice } from "./dice.mjs";
import { acts, hand, stored, takeOff } from "./journey.mjs";
import { looked } from "./looks.mjs";
import { openFile, openSaved } from "./opened.mjs";
import { ROOT, SMALL_PHONE, newFolder, newProfile, openApp, openBrowser, readyOffline, screenshot, startServer, test, watchComplaints } from "./support.mjs";

const PHOTO = join(ROOT, "tests/fixtures/photos/phone_turned_with_position.jpg");
const TITLE = "Gearbox";
const MISSING = "Entries are missing on this phone";

// A browser in which a job was worked on, its copy, and its acts.
async function withJob(t, { profile = newProfile(), photo = false } = {}) {
  const server = await startServer(t);
  const context = await openBrowser(t, { profile, viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  const page = context.pages()[0];
  const complaints = watchComplaints(page);
  await openApp(page, server.url);
  const it = hand(page);
  await openFile(it, TITLE, (say, work) => {
    for (let n = 1; n <= 4; n += 1) work.off(`piece ${n}`, 2);
  });
  await it.screen("Take off");
  // Some of it by hand, as an opened file is one write.
  for (let n = 1; n <= 4; n += 1) await takeOff(it, `cover ${n}`, { sizes: [/^M6 x 20\b/] });
  if (photo) {
    await it.screen("Put back");
    await it.go(/^cover 1\b/);
    await it.title("cover 1");
    const chooser = page.waitForEvent("filechooser");
    await it.tap("Photo");
    await (await chooser).setFiles(PHOTO);
    await it.saved("Photo");
  }
  const copy = await saveCopy(it);
  return { server, context, page, complaints, it, copy, profile, before: await acts(page) };
}

async function saveCopy(it) {
  await it.screen("Job");
  await it.tap("Save a copy");
  const download = it.page.waitForEvent("download");
  await it.tap("Hand it over");
  const bytes = readFileSync(await (await download).path());
  await it.tap("It is saved");
  return bytes;
}

test("evicted with all that knew of it: it starts as new, says nothing false, and a copy brings all back", async (t) => {
  const { server, context, page, complaints, it, copy, before } = await withJob(t, { photo: true });
  await readyOffline(page);
  const address = page.url();
  const photos = (await stored(page)).photos.map((row) => row.hash);
  assert.equal(photos.length, 1);
  await page.goto("about:blank");
  const session = await context.newCDPSession(page);
  await session.send("Storage.clearDataForOrigin", { origin: server.origin, storageTypes: "all" });

  // Where the job was: it is not there, and the way to a copy is.
  await openApp(page, address);
  await page.getByText("Nothing is here").waitFor();
  await it.tap("All jobs", "link");
  await it.title("Jobs");
  await page.getByRole("button", { name: "Open a saved copy" }).waitFor();
  assert.equal(await page.evaluate(() => Object.keys(localStorage).some((key) => key.includes(".mark."))), false);
  assert.deepEqual(await acts(page), []);
  const words = await page.locator("body").innerText();
  assert.doesNotMatch(words, /missing|damaged|lost|Gearbox|cover/i);
  assert.equal(await page.getByRole("alert").count(), 0);
  await openSaved(it, copy);
  await it.title(TITLE);
  assert.deepEqual(await acts(page), before);
  assert.deepEqual((await stored(page)).photos.map((row) => row.hash), photos);
  // It comes to work with no network once more.
  await readyOffline(page);
  await server.stop();
  await page.reload();
  await it.title(TITLE);
  assert.deepEqual(complaints, []);
});

// The files in which the browser of this profile keeps the database of the origin.
function filesOf(profile) {
  const base = join(profile, "Default/IndexedDB");
  const [folder] = readdirSync(base).filter((name) => name.endsWith(".indexeddb.leveldb"));
  const named = (ending) => readdirSync(join(base, folder)).filter((name) => ending.test(name)).map((name) => join(base, folder, name));
  return { logs: named(/\.log$/), tables: named(/\.ldb$/), manifests: named(/^MANIFEST-/) };
}

const sizeOf = (file) => readFileSync(file).length;
const largest = (files) => files.toSorted((a, b) => sizeOf(b) - sizeOf(a))[0];

function overwrite(file, at, bytes) {
  const it = openSync(file, "r+");
  writeSync(it, bytes, 0, bytes.length, at);
  closeSync(it);
}

// What is done to the files, each with chance from `roll`.
const HARMS = {
  "the log is cut in the middle": ({ logs }, roll) => {
    const log = largest(logs);
    truncateSync(log, Math.floor(sizeOf(log) * (0.5 + 0.5 * roll())));
  },
  "the list of files is garbage": ({ manifests }, roll) => {
    const bytes = Buffer.from(Array.from({ length: sizeOf(manifests[0]) }, () => Math.floor(256 * roll())));
    writeFileSync(manifests[0], bytes);
  },
  "bytes of the log are flipped": ({ logs }, roll) => {
    const log = largest(logs);
    const at = Math.floor(sizeOf(log) * (0.3 + 0.6 * roll()));
    overwrite(log, at, Buffer.from(Array.from(readFileSync(log).subarray(at, at + 64), (byte) => byte ^ 0xff)));
  },
};

// More of it is asked for from outside.
const ROUNDS = Number(process.env.ROUNDS ?? 1);
const SEED = Number(process.env.SEED ?? 20260411);

test("files harmed between two runs: the loss is told with its size, and a copy brings all back", async (t) => {
  const { server, context, copy, profile, before } = await withJob(t);
  await context.close();
  const roll = dice(SEED);
  const found = {};
  for (let round = 0; round < ROUNDS; round += 1) {
    for (const [what, harm] of Object.entries(HARMS)) {
      const where = `seed ${SEED}, round ${round}, ${what}`;
      const harmed = newFolder("harmed");
      cpSync(profile, harmed, { recursive: true, filter: (from) => !/Singleton/.test(from) });
      harm(filesOf(harmed), roll);
      const context = await openBrowser(t, { profile: harmed, viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
      const page = context.pages()[0];
      const complaints = watchComplaints(page);
      await openApp(page, server.url);
      const it = hand(page);
      const left = await acts(page);
      assert.deepEqual(left, before.slice(0, left.length), `${where}: what is left is not the start of it`);
      assert.ok(left.length < before.length, `${where}: nothing was harmed`);
      const missing = before.length - left.length;
      await page.getByText(MISSING).waitFor();
      await page.getByText(new RegExp(`^${missing} entr(y|ies) that were saved here are not there any more`)).waitFor();
      // It is not told once only.
      await page.reload();
      await page.getByText(MISSING).waitFor();
      if (round === 0) {
        assert.deepEqual(await looked(page), [], where);
        await screenshot(page, `lost-${what.replaceAll(" ", "-")}`);
      }
      await page.getByRole("link", { name: "Open a saved copy" }).tap();
      await it.title("Jobs");
      await openSaved(it, copy);
      await it.title(TITLE);
      assert.deepEqual(await acts(page), before, where);
      await page.getByText(MISSING).waitFor({ state: "detached" });
      assert.deepEqual(complaints, [], where);
      (found[what] ??= []).push(left.length);
      await context.close();
    }
  }
  t.diagnostic(`of ${before.length} acts were left: ${JSON.stringify(found)}`);
}, 60_000 + ROUNDS * 60_000);

test("a newer version lays out the database: the open page gives way, and the old one reads, copies, and writes nothing", async (t) => {
  const { server, context, page, complaints, it, before } = await withJob(t, { photo: true });
  // The other tab stands for the newer version; it is not held up.
  const newer = await context.newPage();
  await newer.goto(server.url + "manifest.webmanifest");
  const opened = await newer.evaluate(
    () =>
      new Promise((resolve) => {
        const request = indexedDB.open("countback", 1000);
        request.onsuccess = () => resolve(request.result.close() ?? "opened");
        request.onerror = () => resolve("failed");
        request.onblocked = () => resolve("held up");
      }),
  );
  assert.equal(opened, "opened");
  await page.bringToFront();
  await page.getByText("A new version has taken over").waitFor();
  assert.deepEqual(await looked(page), []);
  await page.getByRole("button", { name: "Reload", exact: true }).tap();
  const told = page.getByRole("alert").filter({ hasText: "written by a newer version of the app" });
  await told.first().waitFor();
  await it.title(TITLE);
  assert.deepEqual(await looked(page), []);
  const kept = await stored(page);
  await it.screen("Take off");
  await it.tap("bracket");
  await it.tap("Log it, off");
  const refused = page.getByRole("alert").filter({ has: page.getByRole("button", { name: "Read", exact: true }) });
  await refused.or(page.locator(".toast--stays")).first().waitFor();
  assert.deepEqual(await looked(page), []);
  assert.equal(await page.getByRole("status").filter({ hasText: /^Saved\. Off/ }).count(), 0);
  await it.tap("Read");
  // What is here goes out whole.
  const copy = await saveCopy(it);
  for (const { line } of kept.acts) assert.ok(copy.includes(line), `not in the copy: ${line}`);
  assert.ok(copy.includes(Buffer.from(kept.photos[0].bytes)), "the photo is not in the copy");
  assert.deepEqual(await stored(page), kept);
  assert.deepEqual(await acts(page), before);
  assert.deepEqual(complaints, []);
});
