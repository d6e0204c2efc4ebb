// The entry being made, and what is looked up beside it: what is half typed and
// where it is found again, codes that are shown before they are logged, photos
// one by one, bags that are empty, examples, strays. All jobs are invented.
import assert from "node:assert/strict";
import { join } from "node:path";
import { openDemo } from "./app.mjs";
import { acts, hand, keptDraft, newJob, press, readCautions, soon, takeOff, toPart } from "./journey.mjs";
import { looked } from "./looks.mjs";
import { M6, openFile, toJobs } from "./opened.mjs";
import { PHONE, ROOT, SMALL_PHONE, screenshot, start as started, test } from "./support.mjs";

const PHOTO = join(ROOT, "tests/fixtures/photos/phone_turned_with_position.jpg");
const ready = (page) => page.waitForSelector("body[data-ready]", { state: "attached" });
const value = (page, label) => page.getByRole("dialog").getByLabel(label, { exact: true }).inputValue();

const start = (t) => started(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });

// What is wrong with how it looks on the small phone, and a picture on the usual one.
async function look(page, name) {
  const found = await looked(page);
  await page.setViewportSize(PHONE);
  await screenshot(page, `drafts-${name}`);
  await page.setViewportSize(SMALL_PHONE);
  assert.deepEqual(found, [], name);
}

async function shut(it) {
  await it.tap("Close");
  await it.noSheet();
}

async function named(it, name) {
  if (!(await it.page.getByLabel("Name of the part").count())) await it.tap("Type it");
  await it.type("Name of the part", name);
  await it.page.getByRole("heading", { name: "Fasteners", exact: true }).waitFor();
}

// Opens a sheet of the entry.
async function sheet(it, button, title) {
  await it.tap(button);
  await it.sheet(title);
}

test("what is half typed is of its own job and part, and goes with the entry", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await named(it, "oil pump");
  await sheet(it, "Hose or plug", "Hose or plug");
  await it.type("Name", "top hose");
  await shut(it);
  await sheet(it, "Gasket, seal", "Used once");
  await it.type("Size", "14 x 18");
  await shut(it);
  await named(it, "bracket");
  await sheet(it, "Hose or plug", "Hose or plug");
  assert.deepEqual([await value(page, "Name"), await value(page, "This end is at")], ["hose", "bracket"]);
  await shut(it);
  await sheet(it, "Gasket, seal", "Used once");
  assert.equal(await value(page, "Size"), "");
  await shut(it);
  // In its own it is there again, until that is logged.
  await named(it, "oil pump");
  await sheet(it, "Hose or plug", "Hose or plug");
  assert.equal(await value(page, "Name"), "top hose");
  await shut(it);
  await readCautions(it);
  await it.act("Log it, off", "Off: oil pump");
  await named(it, "oil pump");
  await sheet(it, "Hose or plug", "Hose or plug");
  assert.equal(await value(page, "Name"), "hose");
  await it.type("Name", "drain hose");
  await shut(it);
  // Nor is it found in another job.
  await toJobs(it);
  await newJob(it, { title: "Second job" });
  await it.screen("Take off");
  await named(it, "oil pump");
  await sheet(it, "Hose or plug", "Hose or plug");
  assert.equal(await value(page, "Name"), "hose");
  assert.deepEqual(complaints, []);
});

test("a hose in the entry is changed as it is said, and its code is shown before it is logged", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await named(it, "oil pump");
  await press(page.getByRole("group", { name: "Add a size" }).getByRole("button", { name: /^M6 x 20/ }));
  const shown = async (where) => (await where.locator(".write-tag .tag").innerText()).replace(/\D/g, "");
  const main = page.getByRole("main");
  const bag = await shown(main);
  const codes = [];
  for (const name of ["top hose", "lower hose"]) {
    await sheet(it, "Hose or plug", "Hose or plug");
    await it.type("Name", name);
    await it.tap("Tag both ends");
    codes.push(await shown(page.getByRole("dialog")));
    if (name === "top hose") {
      await look(page, "tag");
    }
    await it.tap("Add it");
    await it.noSheet();
  }
  assert.equal(new Set([bag, ...codes]).size, 3, `${bag} ${codes}`);
  assert.equal(await shown(main), bag, "the bag got another code");
  // Changed and closed by its cross.
  await it.tap(/^top hose/);
  await it.sheet("Hose or plug");
  assert.equal(await shown(page.getByRole("dialog")), codes[0]);
  await it.type("Name", "");
  await shut(it);
  await page.getByText("Give the hose a name").first().waitFor();
  assert.equal(await page.getByRole("button", { name: /^Log it, off/ }).isDisabled(), true);
  await it.tap(/^hose/);
  await it.sheet("Hose or plug");
  await it.type("Name", "vent hose");
  await shut(it);
  await keptDraft(page, "vent hose");
  // And so of a gasket.
  await sheet(it, "Gasket, seal", "Used once");
  await it.tap("Add it");
  await it.noSheet();
  await it.tap(/^1 × gasket/);
  await it.sheet("Used once");
  await it.type("Size", "90 x 60");
  await shut(it);
  await it.page.getByText("1 × gasket 90 x 60").first().waitFor();
  await page.reload();
  await ready(page);
  await look(page, "entry");
  await readCautions(it);
  await it.act("Log it, off", "Off: oil pump");
  const logged = await acts(page);
  const hoses = logged.filter((a) => a.act === "connection-logged");
  assert.deepEqual(hoses.map((a) => [a.name, a.tag]), [["vent hose", codes[0]], ["lower hose", codes[1]]]);
  assert.equal(logged.find((a) => a.act === "container-named").tag, bag);
  assert.equal(logged.find((a) => a.act === "item-removed").size, "90 x 60");
  assert.deepEqual(complaints, []);
});

test("what is logged by itself, ports and things to put on are there again when the page was killed", async (t) => {
  const { complaints, open, page, server } = await start(t);
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await named(it, "housing");
  await sheet(it, "More about it", "More");
  await it.tap("Rag, cover, pin, tool");
  await it.type("What it is", "10 mm socket");
  await it.tap("tool");
  assert.equal(await value(page, "What it is"), "10 mm socket");
  await it.type("Where it is", "intake port 2");
  await it.tap("One more: How many");
  await it.tap("Fluid drained");
  await it.tap("gear oil");
  await it.type("How much came out", "2 l");
  // Several of each, one taken out again.
  await it.type("Port it leaves open", "coolant port");
  for (const port of ["oil passage", "vent"]) {
    await it.tap("Another port");
    await it.type(`Port it leaves open (${port === "vent" ? 3 : 2})`, port);
  }
  await it.tap("Take out the port: oil passage");
  for (const kind of ["sealant", "lubricant", "thread-locker"]) await it.tap(kind);
  await it.type("Product", "silicone");
  await it.type("Product (2)", "grease");
  await it.tap("Take out: thread-locker");
  await look(page, "more");
  await keptDraft(page, "grease");
  await page.reload();
  await ready(page);
  await sheet(it, "More about it", "More");
  assert.equal(await value(page, "How much came out"), "2 l");
  await it.tap("Rag, cover, pin, tool");
  assert.deepEqual([await value(page, "What it is"), await value(page, "Where it is")], ["10 mm socket", "intake port 2"]);
  await readCautions(it);
  await it.act("Log it", "10 mm socket");
  await it.noSheet();
  const put = (await acts(page)).at(-1);
  assert.deepEqual([put.kind, put.n, put.place], ["tool", 2, "intake port 2"]);
  // What was logged is not there again; what was not, is.
  await sheet(it, "More about it", "More");
  await it.tap("Rag, cover, pin, tool");
  assert.equal(await value(page, "What it is"), "rag");
  await it.tap("Fluid drained");
  assert.deepEqual([await value(page, "Fluid"), await value(page, "How much came out")], ["gear oil", "2 l"]);
  await shut(it);
  await readCautions(it);
  await it.act("Log it, off", "Off: housing");
  const logged = await acts(page);
  assert.deepEqual(logged.filter((a) => a.act === "opening-made").map((a) => a.name), ["coolant port", "vent"]);
  assert.deepEqual(logged.filter((a) => a.act === "treatment-prescribed").map((a) => a.product), ["silicone", "grease"]);

  // On its page: words that are half typed, and one thing more to put on.
  await toPart(it, "housing");
  await sheet(it, "More about it", "housing");
  await it.type("Why, or what was found", "flange pitted");
  await page.reload();
  await ready(page);
  await sheet(it, "More about it", "housing");
  assert.equal(await value(page, "Why, or what was found"), "flange pitted");
  await it.tap("Something to put on");
  await it.sheet("Something to put on");
  await it.tap("thread-locker");
  await it.type("Product", "medium strength");
  await look(page, "put-on");
  await it.act("Log it", "medium strength");
  await it.noSheet();
  await page.getByRole("button", { name: /^Put on thread-locker/ }).waitFor();

  // A new job.
  await page.goto(server.url + "#/new");
  await it.title("New job");
  await it.type("Who is at work", "Bo");
  await it.type("Reading now", "1234");
  await it.tap("hours");
  await page.reload();
  await ready(page);
  assert.equal(await page.getByLabel("Who is at work").inputValue(), "Bo");
  assert.equal(await page.getByLabel("Reading now").inputValue(), "1234");
  await page.getByRole("button", { name: "hours", pressed: true }).waitFor();
  assert.deepEqual(complaints, []);
});

test("one photo is left out; what is not here and what is damaged are told apart", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await named(it, "cover");
  const add = async (file) => {
    const chooser = page.waitForEvent("filechooser");
    await it.tap("Album");
    await (await chooser).setFiles(file);
  };
  const thumbs = page.getByRole("main").getByRole("link", { name: /^Photo: / });
  await add({ name: "screen.png", mimeType: "image/png", buffer: await page.screenshot() });
  await soon(async () => (await thumbs.count()) === 1, "no first photo");
  await add(PHOTO);
  await soon(async () => (await thumbs.count()) === 2, "no second photo");
  await look(page, "photos");
  await it.tap(/^Leave out ?:? photo 1/);
  await soon(async () => (await thumbs.count()) === 1, "it was not left out");
  await readCautions(it);
  await it.act("Log it, off", "Off: cover");
  const taken = (await acts(page)).filter((a) => a.act === "photo-taken");
  assert.equal(taken.length, 1);
  const [{ hash }] = taken;

  // Another one's bytes, then none.
  const harm = (store, bytes) =>
    page.evaluate(
      async ([store, hash, bytes]) => {
        const wait = (request) => new Promise((done, fail) => Object.assign(request, { onsuccess: () => done(request.result), onerror: () => fail(request.error) }));
        const base = await wait(indexedDB.open("countback"));
        const rows = base.transaction(store, "readwrite").objectStore(store);
        const key = (await wait(rows.getAllKeys())).find((key) => key === hash);
        const row = await wait(rows.get(key));
        if (bytes) {
          const own = rows.keyPath === null ? [key] : [];
          await wait(rows.put({ ...row, bytes: new Uint8Array(bytes).buffer }, ...own));
        } else await wait(rows.delete(key));
        base.close();
      },
      [store, hash, bytes],
    );
  await toPart(it, "cover");
  const part = page.url();
  const states = {};
  for (const [name, bytes] of [["damaged", [1, 2, 3]], ["not here", null]]) {
    for (const store of ["photos", "thumbs"]) await harm(store, bytes);
    await page.goto(part);
    await page.reload();
    await ready(page);
    await page.getByRole("link", { name: `Photo: cover, ${name}` }).waitFor();
    await look(page, `thumb-${name.replace(" ", "-")}`);
    await press(thumbs.first());
    await page.getByRole("button", { name: "Set a mark" }).waitFor();
    const gone = page.locator(".photo__gone");
    await soon(async () => !/being read/.test(await gone.innerText()), "it is being read for ever");
    states[name] = await gone.innerText();
    await look(page, `photo-${name.replace(" ", "-")}`);
  }
  assert.match(states.damaged, /damaged and cannot be shown/);
  assert.match(states["not here"], /not on this phone/);
  assert.deepEqual(complaints, []);
});

test("an empty bag says so, a stray is what it can be, two accounts are counted, examples stay apart", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await openDemo(page, "Tiller");
  await toJobs(it);
  await openFile(it, "Pump", (say, work) => {
    const bag = say("container-named", { tag: "471227", kind: "bag", lies: "shelf" });
    const pump = work.off("pump", 4, { went: [`4 container:${bag}`] });
    work.place(pump);
    say("started", { fixing: pump.fixing, places: pump.places, line: pump.fixing, from: `container:${bag}` });
    work.tight(pump);
    const other = say("container-named", { tag: "104276", kind: "tray" });
    work.off("guard", 6, { spec: "nut | thread=M6 x 1", went: ["2 bench", `4 container:${other}`] });
    const arm = work.off("arm", 2, { spec: "bolt | thread=M8 x 1.25" });
    say("moved", { line: arm.fixing, from: "bench", to: "missing", n: 1, reason: "counted again" });
    say("stray-found", { spec: "bolt | thread=M8 x 1.25", place: "floor" });
    say("stray-found", { spec: "nut", place: "tray" });
  });
  // An empty bag has a name, and leads to itself.
  await it.screen("Find");
  await press(page.getByRole("list", { name: "Bags and boxes" }).getByRole("link", { name: /Empty: nothing is booked in it/ }));
  await page.getByText("Empty: nothing is booked in it.").waitFor();
  await soon(() => page.evaluate(() => document.activeElement?.textContent.includes("Empty")), "the bag is not led to");
  await look(page, "empty-bag");
  // Nothing of the example is found.
  await it.screen("Find");
  await it.type("Words, a size, or a tag code", "fuel bowl");
  await page.getByText("Nothing found.").waitFor();
  // Both accounts of a line are counted in one go.
  await it.screen("Job");
  await it.tap(/^4 × M6 nut/);
  const counts = page.getByRole("dialog");
  const less = counts.getByRole("button", { name: /^One less ?:? Really there/ });
  await press(less.first());
  await press(less.last());
  await it.act("1 counted", "Moved: 1 × M6 nut of guard");
  await it.act("3 counted", "Moved: 1 × M6 nut of guard");
  await it.noSheet();
  // An M8 bolt on the floor is no M6 nut, and the other way round.
  const offered = async (stray) => {
    const row = page.getByRole("list", { name: "Found, unknown" }).getByRole("listitem").filter({ hasText: stray });
    return row.getByRole("button", { name: /^It is the/ }).allInnerTexts();
  };
  assert.match((await offered(/M8/)).join(), /^It is the M8[^,]*$/);
  assert.match((await offered(/nut/)).join(), /^It is the [^,]*M6 nut[^,]*$|^It is the nut of guard$/);
  await look(page, "strays");
  assert.deepEqual(complaints, []);
});
