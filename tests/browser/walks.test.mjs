// What a hand meets along the way of a whole job: what was only slackened or
// swung aside; washers of a union bolt; a bolt that broke; a part over two
// bags and a bolt too many; a search that is misspelt; a mark on a photo; and
// the screen that stays on. Two pages for all; the jobs are invented.
import assert from "node:assert/strict";
import { join } from "node:path";
import { acts, hand, newJob, press, pressAll, readCautions, soon, takeOff, toPart } from "./journey.mjs";
import { M6, openFile, toJobs } from "./opened.mjs";
import { ROOT, start, test } from "./support.mjs";

const PHOTO = join(ROOT, "tests/fixtures/photos/phone_turned_with_position.jpg");

/// Goes to a part, and reads what stands before the next act on it.
async function at(it, name) {
  await toPart(it, name);
  await readCautions(it);
}

/// Waits until what is named can be logged, its cautions read.
async function named(page, it) {
  const fasteners = page.getByRole("heading", { name: "Fasteners", exact: true });
  await page.getByRole("button", { name: "Read, go on" }).or(fasteners).first().waitFor();
  await readCautions(it);
  await fasteners.waitFor();
}

/// Opens the pass of the one fixing of a part, its cautions read.
async function toPass(page, it) {
  await it.go(/^Place by place/);
  const pass = page.getByRole("region", { name: "The pass" });
  await page.getByRole("button", { name: "Read, go on" }).or(pass).first().waitFor();
  await readCautions(it);
  await pass.waitFor();
}

const group = (page, name) => page.getByRole("group", { name, exact: true });

test("two out and three only slackened owe five places; a union bolt its washers; a broken one its repair", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  // By mistake: taken back at once, it is on again, and the record keeps both.
  await takeOff(it, "pump", { sizes: [/^M8 x 25/] });
  const written = (await acts(page)).length;
  await it.tap(/^Undo the last entry/);
  await page.getByText("0 off so far").waitFor();
  assert.equal((await acts(page)).length, written + 1, "what was struck is to stay readable");

  await it.tap("Type it");
  await it.type("Name of the part", "oil cooler");
  await named(page, it);
  await press(group(page, "Add a size").getByRole("button", { name: /^M8 x 25/ }));
  for (let n = 0; n < 3; n += 1) await it.tap(/^One more: M8 x 25/);
  await it.tap(/^Details ?:? M8 x 25/);
  await it.sheet(/^M8 x 25/);
  for (let n = 0; n < 3; n += 1) await it.tap("One more: Only slackened");
  await it.tap("Done");
  await it.noSheet();
  await it.tap("More about it");
  await it.sheet("More");
  await it.tap("Swung aside, not off");
  await it.tap("Close");
  await it.noSheet();
  await it.act("Log it, swung aside", "Swung aside: oil cooler");
  // A union bolt logged as one fastener owes its two washers.
  await it.tap("Type it");
  await it.type("Name of the part", "oil feed");
  await named(page, it);
  await press(group(page, "Add a size").getByRole("button", { name: /^M10 x 40/ }));
  await it.tap(/^One less: M10 x 40/);
  await it.tap(/^Details ?:? M10 x 40/);
  await it.sheet(/^M10 x 40/);
  await it.tap("Union bolt, two washers");
  await it.tap("Done");
  await it.noSheet();
  await it.act("Log it, off", "Off: oil feed");
  await it.screen("Job");
  assert.match((await it.lines("To buy")).join("\n"), /2 × union washer/);
  await it.screen("Audit");
  const owed = (await it.lines("Start and tighten")).filter((row) => row.includes("of oil cooler"));
  const places = owed.map((row) => Number(row.match(/^Not (?:in|tight): (\d+) × M8 x 25/)[1]));
  assert.deepEqual(places, [2, 3], owed.join());
  await at(it, "oil cooler");
  await it.act("Place it", "Back: oil cooler");
  await pressAll(it, /^All \d+ started by hand/);
  await pressAll(it, /^All tight/);
  await page.getByText("5 of 5").or(page.getByText("of 5")).first().waitFor();
  await it.screen("Audit");
  assert.ok(!(await it.lines("Start and tighten")).join().includes("of oil cooler"));

  // One breaks as it is tightened: the thread repaired, a new one bought, and none is short.
  await it.screen("Take off");
  await takeOff(it, "cover", { sizes: [/^M8 x 30/] });
  await at(it, "cover");
  await it.act("Place it", "Back: cover");
  await it.act(/^All 2 started by hand/, "Started");
  await toPass(page, it);
  await it.tap(/^Place 2 ?,/);
  await it.sheet(/^Place 2/);
  await it.act("It broke", "Broke: 1 × M8 x 30");
  await it.noSheet();
  await page.getByRole("button", { name: /^2 broke/ }).waitFor();
  assert.equal(await page.getByRole("button", { name: /^2 broke/ }).isDisabled(), true);
  assert.equal(await page.getByRole("button", { name: "Thread 2 repaired" }).count(), 1);
  await it.screen("Audit");
  await page.getByText(/broken at place 2/).first().waitFor();
  await at(it, "cover");
  assert.equal(await page.getByRole("button", { name: /^All tight/ }).count(), 0, "it is final with one broken");
  await it.act("Thread repaired", "Place repaired");
  await it.screen("Job");
  const buy = page.getByRole("list", { name: "To buy" }).getByRole("listitem").filter({ hasText: "1 × M8 x 30" });
  await press(buy.getByRole("button", { name: /^Arrived/ }));
  await it.saved("Arrived: 1 × M8 x 30");
  await at(it, "cover");
  await pressAll(it, /^All 1 started by hand/);
  await pressAll(it, /^All tight/);
  await it.screen("Audit");
  assert.ok(!(await it.lines("Start and tighten")).join().includes("of cover"));
  assert.deepEqual(complaints, []);
});

test("found though misspelt, by a tag of another job, by a mark on a photo; and a pass that keeps the screen on", async (t) => {
  const { complaints, context, open, page } = await start(t);
  await context.addInitScript(() => {
    globalThis.wakes = [];
    const lock = () => Object.assign(new EventTarget(), {
      released: false,
      async release() {
        globalThis.wakes.push("let go");
      },
    });
    Object.defineProperty(navigator, "wakeLock", {
      value: {
        async request(kind) {
          globalThis.wakes.push(kind);
          return lock();
        },
      },
    });
  });
  await open();
  const it = hand(page);
  await openFile(it, "The other job", (say) => {
    const part = say("part-off", { name: "gear lever" });
    const bag = say("container-named", { tag: tagOf(4711), kind: "bag", name: "lever" });
    say("fixing-undone", { parts: [part], spec: M6, n: 2, reuse: "reuse", went: [`2 container:${bag}`] });
  });
  await toJobs(it);
  await openFile(it, "Manifold job", (say, work) => {
    work.off("manifold", 3, { spec: M6, detail: { tool: "long spanner", stages: ["10 N.m"] } });
    say("note-added", { on: "job", text: "only the long spanner gets in behind" });
  });
  await it.screen("Find");
  const found = async (asked, wanted) => {
    await it.type("Words, a size, or a tag code", asked);
    const list = page.getByRole("list", { name: "Found" });
    await soon(async () => wanted.test((await list.allInnerTexts()).join("\n")), `${asked} does not find ${wanted}`);
  };
  await found("mainfold", /manifold/);
  await found("spaner", /long spanner/);
  await found("10 mil bolt", /M6 x 20 bolt/);
  // A tag says of which job it is; a digit wrong is refused, and the right one offered.
  const code = tagOf(4711);
  await it.type("Words, a size, or a tag code", code);
  await page.getByRole("list", { name: "Where the tag hangs" }).getByText(/in The other job/).waitFor();
  // It leads to the bag itself, in its own job.
  await press(page.getByRole("list", { name: "Where the tag hangs" }).getByRole("link"));
  await it.title("The other job");
  await soon(() => page.evaluate((code) => document.activeElement.innerText.includes(code), code), "the bag is not looked at");
  await page.goBack();
  await it.title("Find");
  const wrong = code.slice(0, 3) + ((Number(code[3]) + 1) % 10) + code.slice(4);
  await it.type("Words, a size, or a tag code", wrong);
  await page.getByText(`${wrong} is no tag code: a digit is wrong or two are swapped.`).waitFor();
  await page.getByRole("heading", { name: "One slip away" }).waitFor();

  // A part over two bags: so many from each, and what is not its own stays in.
  await toJobs(it);
  await openFile(it, "Two bags", (say, work) => {
    const [seven, nine] = [7, 9].map((n) => `container:${say("container-named", { tag: tagOf(n), kind: "bag", name: "" })}`);
    work.off("timing cover", 11, { went: [`9 ${seven}`, `2 ${nine}`] });
    work.off("pump", 6, { went: [`6 ${nine}`] });
  });
  await at(it, "timing cover");
  const bags = (await it.lines("Containers")).map((row) => row.replace(/\s+/g, " "));
  assert.equal(bags.length, 2, bags.join());
  assert.match(bags.find((row) => row.includes(tagOf(7))), /9 × M6 x 20/);
  assert.match(bags.find((row) => row.includes(tagOf(9))), /2 × M6 x 20.*6 for other parts stay in it/);
  await it.act("Place it", "Back: timing cover");
  await it.act("All 11 started by hand", /Started: \d+ × M6 x 20/);
  assert.equal(await page.getByRole("list", { name: "Containers" }).count(), 0);
  await it.screen("Job");
  assert.match((await it.lines(`bag ${tagOf(9)}`)).join(), /^6 × M6 x 20/);
  assert.equal(await page.getByRole("list", { name: `bag ${tagOf(7)}` }).count(), 0);

  // One over at the end: the place that is short is listed first; where none is
  // short it stays as found, and open.
  const over = (say, work) => {
    const spec = "bolt | thread=M8 x 1.25 | length=30 | head=hex 13 mm";
    work.back(work.off("cover", 2, { spec }));
    say("stray-found", { spec, place: "floor" });
    return spec;
  };
  await toJobs(it);
  await openFile(it, "One short", (say, work) => {
    const spec = over(say, work);
    const lid = work.off("lid", 2, { spec });
    say("moved", { line: lid.fixing, from: "bench", to: "missing", n: 1, reason: "not to be found" });
  });
  const origins = async (title) => {
    await it.screen("Audit");
    await it.go(/^Identify it.*M8 x 30 bolt/);
    await it.title("What is this bolt?");
    await it.tap(/^Identify it/);
    await press(page.getByRole("button", { name: /^\d+ places?$/ }));
    const rows = await it.lines("It may be from");
    return rows.filter((row) => !/ in /.test(row) || row.includes(title));
  };
  const short = await origins("One short");
  assert.match(short[0], /lid/);
  await toJobs(it);
  await openFile(it, "None short", over);
  await it.screen("Audit");
  await page.getByText(/^Unknown: .*M8 x 30/).first().waitFor();
  await toJobs(it);
  await it.go(/^Manifold job/);
  await it.title("Manifold job");

  // A photo with a mark, and one tap from the mark to the page of what it shows.
  await at(it, "manifold");
  const chooser = page.waitForEvent("filechooser");
  await it.tap("Photo");
  await (await chooser).setFiles(PHOTO);
  await it.go("Photo: manifold");
  await it.title("manifold");
  await it.tap("Set a mark");
  await page.getByRole("button", { name: "Tap the photo where it is" }).waitFor();
  await page.locator(".photo__image").first().tap();
  await it.sheet("What the mark shows");
  await it.act(/^3 × M6 x 20|M6 x 20/, "Mark 1");
  await it.noSheet();
  await it.tap(/^1: .*M6 x 20/);
  await it.title(/M6 x 20/);
  await it.tap("Back");
  await it.go(/^1\. .*M6 x 20/);
  await it.title(/M6 x 20/);

  // The pass keeps the screen on, and lets it go dark when it is left.
  await at(it, "manifold");
  await it.act("Place it", "Back: manifold");
  const wakes = () => page.evaluate(() => globalThis.wakes);
  assert.deepEqual(await wakes(), []);
  await toPass(page, it);
  await it.tap("All 3 bolts started by hand");
  await page.getByText("10 N·m", { exact: true }).first().waitFor();
  await soon(async () => (await wakes()).join() === "screen", "the screen is not kept on");
  await page.getByRole("button", { name: "Screen stays on", pressed: true }).waitFor();
  // As large as the style says: 44 px for what is read from the floor, 88 for whose turn it is.
  for (const [what, tall] of [[".pass__figure", 44], [".pass__number", 88]]) {
    const box = await page.locator(what).boundingBox();
    const size = await page.locator(what).evaluate((it) => parseFloat(getComputedStyle(it).fontSize));
    assert.ok(size >= tall && box.height >= tall * 0.95, `${what}: letters of ${size} px in ${box.height} px`);
    assert.ok(box.x >= 0 && box.x + box.width <= page.viewportSize().width, `${what} runs off the screen`);
  }
  await it.tap("Back");
  await it.title("manifold");
  await soon(async () => (await wakes()).join() === "screen,let go", `it is not let go: ${await wakes()}`);
  assert.deepEqual(complaints, []);
});

// Four digits and the two that check them: ISO/IEC 7064 MOD 97-10.
function tagOf(n) {
  const check = 98 - ((n * 100) % 97);
  return String(n).padStart(4, "0") + String(check).padStart(2, "0");
}
