// The torque pass on the screen: stories of the phone that dies after seven of
// eleven, and of eight nuts in three stages; the order on a drawing; what is
// said before the wrench is picked up. All figures are invented.
import assert from "node:assert/strict";
import { join } from "node:path";
import { acts, hand, newJob, press, soon, takeOff, toPart } from "./journey.mjs";
import { looked } from "./looks.mjs";
import { newProfile, openApp, openBrowser, PHONE, ROOT, screenshot, SMALL_PHONE, start, test } from "./support.mjs";

const PHOTO = join(ROOT, "tests/fixtures/photos/phone_turned_with_position.jpg");

// A cover with one fixing, placed, and its pass open with the cautions read.
async function toPass(it, size, n) {
  await newJob(it);
  await it.screen("Take off");
  await takeOff(it, "cover", { sizes: Array(n - 1).fill(size) });
  await toPart(it, "cover");
  await it.act("Place it", "Back: cover");
  // One tap from the fixing's row.
  await it.go(/^Place by place/);
  const read = it.page.getByRole("button", { name: "Read, go on" });
  await read.first().waitFor();
  while (await read.count()) await press(read.first());
  await it.page.getByRole("region", { name: "The pass" }).waitFor();
}

const pass = (page) => page.getByRole("region", { name: "The pass" });
const main = (page) => page.locator(".pass-act button");

/// The big lines as they are read, on one line.
const read = async (page) => (await pass(page).innerText()).replace(/\s+/g, " ");

/// Taps the one button so many times, each after the last is saved.
async function taps(it, n) {
  for (let i = 0; i < n; i += 1) {
    const before = (await acts(it.page)).length;
    it.done.taps += 1;
    await main(it.page).tap();
    await soon(async () => (await acts(it.page)).length > before, "the tap is not saved");
  }
}

// Taps n places on the photo of the sheet that asks for the order, each where `at` says in its box.
async function markPlaces(it, n, at) {
  await it.tap(/^Mark the places on a photo/);
  const picture = it.page.getByRole("dialog").locator(".photo__image");
  await picture.waitFor();
  const box = await picture.boundingBox();
  for (let place = 0; place < n; place += 1) {
    await it.page.getByText(`Tap each place on the photo: ${n - place} to go.`).waitFor();
    await picture.tap({ position: at(place, box) });
  }
  await it.page.getByText("All are marked.").waitFor();
}

test("the phone dies after seven of eleven, and opens at hole 8", async (t) => {
  const profile = newProfile();
  const { server, context, page, open } = await start(t, { profile });
  await open();
  const it = hand(page);
  await toPass(it, /^M6 x 20/, 11);
  await it.tap("All 11 bolts started by hand");
  await page.getByText("Tighten", { exact: true }).first().waitFor();
  await taps(it, 7);
  await context.close();

  const again = await openBrowser(t, { profile });
  const next = again.pages()[0] ?? (await again.newPage());
  await openApp(next, server.url);
  // It is where it was, with nothing lost, and asks for the last three.
  await pass(next).waitFor();
  assert.match(await read(next), /Next 8 started/);
  const asked = await next.locator(".again__line > span").allInnerTexts();
  assert.deepEqual(asked.map((text) => Number(text.match(/\d+/)[0])), [5, 6, 7]);
  // Two are sure, one is not: it is in doubt and the turn stays at 8.
  const hold = hand(next);
  for (const [n, sure] of [[5, "Sure"], [6, "Not sure"], [7, "Sure"]]) {
    await hold.tap(new RegExp(`^${sure} Place ${n}$`));
    await soon(async () => !(await next.getByRole("button", { name: new RegExp(`^Sure Place ${n}$`) }).count()), `place ${n} is still asked`);
  }
  assert.match(await read(next), /Next 8 started/);
  await next.getByText(/^Not sure of bolt 6\./).waitFor();
  await taps(hold, 4);
  assert.match(await read(next), /Next 6 not sure/);
  assert.match(await main(next).innerText(), /^Bolt 6 touched again, tight/);
  await taps(hold, 1);
  await next.getByText("All final").waitFor();
}, 120_000);

test("eight nuts in three stages go on at stage 3 nut 3, and nut 2 is not repeated unasked", async (t) => {
  const { page, open, complaints } = await start(t, { viewport: SMALL_PHONE });
  await open();
  const it = hand(page);
  await toPass(it, /^M8 nut/, 8);
  // Stages by steppers and chips.
  await it.tap("Stages");
  await it.sheet("Stages");
  // No figure stands there that nobody entered, and none that was is lost.
  const use = page.getByRole("dialog").getByRole("button", { name: /^Use these stages/ });
  assert.match(await use.innerText(), /No figure is entered yet/);
  await it.tap("+10");
  await it.tap("+10");
  assert.match(await use.innerText(), /20 N·m is in no stage yet/);
  await it.tap("Add 20 N·m as stage 1");
  await it.tap("+10");
  await it.tap("+10");
  for (let i = 0; i < 5; i += 1) await it.tap("One more: Figure");
  await it.tap("Add 45 N·m as stage 2");
  for (const turn of [15, 30, 45, 60, 75, 90]) await it.tap(`Angle, degrees to ${turn}`);
  await it.tap("Add +90° as stage 3");
  await it.tap("Use these stages");
  await it.noSheet();
  // Crosswise, as they lie on a circle.
  await it.tap("Order");
  await it.sheet("Order of tightening");
  await it.tap("circle");
  await it.tap("Use this order");
  await it.noSheet();
  await page.getByRole("img", { name: "Order of tightening: 1, 2, 3, 4, 5, 6, 7, 8" }).waitFor();
  await it.tap("All 8 nuts started by hand");
  await page.getByText("Stage 1 of 3:").waitFor();
  const typed = it.done.typed;
  const before = it.done.taps;
  await taps(it, 18);
  assert.equal(it.done.taps - before, 18, "one tap a fastener");
  assert.match(await read(page), /Stage 3 of 3: \+90° .*Next 3 has 45 N·m/);
  // The phone dies here: the last three went over from one stage to the next.
  await page.reload();
  await page.waitForSelector("body[data-ready]", { state: "attached" });
  await pass(page).waitFor();
  assert.match(await read(page), /Stage 3 of 3: \+90° .*Next 3 has 45 N·m/);
  await page.getByText(/^The app was closed under way\. Last in hand: /).waitFor();
  const asked = await page.locator(".again__line > span").allInnerTexts();
  assert.deepEqual(asked.map((text) => Number(text.match(/\d+/)[0])), [8, 1, 2]);
  await it.tap(/^Place 2 ?,/);
  await it.sheet(/^Place 2/);
  await it.tap("Not sure of it");
  await it.noSheet();
  await page.getByText(/^Not sure of nut 2\./).waitFor();
  assert.match(await read(page), /Next 3 has 45 N·m/);
  await taps(it, 6);
  assert.match(await read(page), /Stage 3 of 3.*Next 2 not sure/);
  await it.tap("Nut 2 slackened, it starts over");
  await page.getByText("Stage 1 of 3:").waitFor();
  await taps(it, 3);
  await page.getByText("All final").waitFor();
  assert.equal(it.done.typed, typed, "nothing was typed");
  // What was tightened went round opposite by opposite.
  const first = (await acts(page)).filter((a) => a.act === "tightened").slice(0, 8);
  assert.deepEqual(first.flatMap((a) => a.places), [0, 4, 2, 6, 1, 5, 3, 7]);
  assert.equal(first[0].value, "20 N.m");
  // The last tap taken back.
  await it.tap(/^Undo the last tap/);
  await page.getByText("Stage 3 of 3:").waitFor();
  assert.deepEqual(complaints, []);
}, 120_000);

test("a doubtful figure, a wrench too short and an adapter are said before the pass", async (t) => {
  const { page, open } = await start(t, { viewport: PHONE });
  await open("#/settings");
  const it = hand(page);
  await it.tap("Add a torque wrench");
  await page.getByRole("group", { name: "Wrench 1 to" }).waitFor();
  await it.tap("Back");
  await it.title("Jobs");
  await toPass(it, /^M6 x 20/, 4);
  await it.tap("Stages");
  await it.sheet("Stages");
  // What was chosen of a figure goes with it.
  await it.tap("+10");
  await it.tap("+10");
  await it.tap("30, 60, 100 %");
  await it.tap("+50");
  await page.getByRole("dialog").getByText("21 N·m, 42 N·m, 70 N·m", { exact: true }).waitFor();
  await it.tap("+50");
  await it.tap("In one go");
  await page.getByText(/would give way|High for this bolt/).waitFor();
  await it.tap("Use these stages");
  await it.noSheet();
  // The doubt in a line; what it rests on is a tap away.
  const doubt = page.locator(".banner").filter({ hasText: "would give way" });
  await doubt.waitFor();
  const rests = doubt.getByText(/lbf·in.*maker's figure wins/);
  const unfolded = () => doubt.locator("details").evaluate((it) => it.open);
  assert.equal(await unfolded(), false);
  await doubt.getByText("Why", { exact: true }).tap();
  assert.equal(await unfolded(), true);
  await rests.waitFor();
  await page.getByText("120 N·m is above what your wrenches reach.").waitFor();
  await it.tap("Wrench");
  await it.sheet("On the wrench");
  await it.tap("An adapter is on it");
  // No length is taken that was not measured.
  const adapter = page.getByRole("dialog").getByRole("button", { name: /^Use this adapter/ });
  const more = (length, by) => page.getByRole("group", { name: `${length}, more` }).getByRole("button", { name: by, exact: true });
  assert.match(await adapter.innerText(), /Measure from the grip to the drive first/);
  assert.equal(await page.getByRole("dialog").getByText("Set as it stands").count(), 0, "with an adapter that is not measured");
  for (let i = 0; i < 4; i += 1) await press(more("Grip to drive", "+100"));
  assert.match(await adapter.innerText(), /Measure from the drive to the fastener first/);
  await press(more("Drive to fastener", "+50"));
  // What to set can be looked up while they are started by hand.
  await page.getByRole("dialog").getByText("Set 107 N·m", { exact: true }).waitFor();
  await it.act("Use this adapter", "On the wrench");
  await it.noSheet();
  await it.tap("All 4 bolts started by hand");
  // 120 x 400 / (400 + 50) = 106.7, as fine as a scale is read there: 107.
  await page.getByText("107 N·m", { exact: true }).waitFor();
  await page.getByText("With the adapter it then gets 120.4 N·m").waitFor();
  // The maker's order, tapped.
  await it.tap("Order");
  await it.sheet("Order of tightening");
  await it.tap("Put in the maker's order");
  for (const n of [3, 1, 4, 2]) await it.tap(new RegExp(`^Place ${n}`));
  await it.tap("Use the maker's order");
  await it.noSheet();
  await page.getByText("The maker's order", { exact: true }).waitFor();
  const round = (await acts(page)).find((a) => a.act === "round-set");
  assert.deepEqual([round.order, round.maker], [[2, 0, 3, 1], true]);
  // Once more all round at the end, asked for here; one still turns the first time.
  await it.tap("Stages");
  await it.sheet("Stages");
  await it.tap("Go round once more at the end");
  await soon(async () => (await acts(page)).some((a) => a.act === "last-round-asked"), "the round is not asked for");
  await it.tap("Close");
  await it.noSheet();
  await taps(it, 4);
  await page.getByText(/^Drawing one down eases its neighbours/).waitFor();
  assert.match(await read(page), /Once more all round, set: 107 N·m/);
  await it.screen("Audit");
  await page.getByText(/^Last round owed: 4 /).first().waitFor();
  await page.goBack();
  await it.tap("One still turned");
  await page.getByText(/^One turned on the last round/).waitFor();
  await it.tap(/^Gone round at 120 N·m, none turned/);
  await page.getByText("All final").waitFor();
  const written = await acts(page);
  assert.deepEqual(written.find((a) => a.act === "adapter-set").adapter, { "wrench-mm": 400, "adapter-mm": 50 });
  // The record tells what stood on the scale.
  assert.deepEqual(written.filter((a) => a.act === "tightened").map((a) => a.set), Array(4).fill("107 N.m"));
  assert.deepEqual(written.filter((a) => a.act === "went-round").map((a) => [a.turned ?? false, a.set]), [[true, "107 N.m"], [false, "107 N.m"]]);
}, 120_000);

test("places marked on a photo give the order, drawn over the photo", async (t) => {
  const { page, open, complaints } = await start(t, { viewport: PHONE });
  await open();
  const it = hand(page);
  await toPass(it, /^M6 x 20/, 5);
  await it.tap("Back");
  await it.title("cover");
  const chooser = page.waitForEvent("filechooser");
  await it.tap("Photo");
  await (await chooser).setFiles(PHOTO);
  await page.getByRole("link", { name: /^Photo: / }).waitFor();
  await it.go(/^Place by place/);
  await pass(page).waitFor();
  await it.tap("Order");
  await it.sheet("Order of tightening");
  // A line across the picture, from the left to the right.
  await markPlaces(it, 5, (n, { width, height }) => ({ x: width * (0.1 + 0.2 * n), y: height * 0.5 }));
  await it.tap("Done marking");
  await it.tap("Line: from the middle outwards");
  await page.getByRole("dialog").getByRole("img", { name: /^Order of tightening/ }).waitFor();
  await it.tap("Use this order");
  await it.noSheet();
  const drawn = page.getByRole("img", { name: /^Order of tightening: 1, 2, 3, 4, 5$/ });
  await drawn.locator("image").waitFor({ state: "attached" });
  await soon(async () => (await drawn.locator("text").count()) === 5, "not every place is drawn");
  await screenshot(page, "pass-on-photo");
  const round = (await acts(page)).find((a) => a.act === "round-set");
  assert.equal(round.order[0], 2, "the middle one first");
  assert.equal(round.points.length, 10);
  assert.ok(round.photo);
  assert.deepEqual(complaints, []);
}, 120_000);

test("a cover with bolts of two lengths in turn is one pass over all of them", async (t) => {
  const { page, open, complaints } = await start(t, { viewport: SMALL_PHONE });
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  const sizes = [/^M6 x 20/, /^M6 x 25/];
  await takeOff(it, "cover", { sizes: [...sizes, ...sizes] });
  await toPart(it, "cover");
  const chooser = page.waitForEvent("filechooser");
  await it.tap("Photo");
  await (await chooser).setFiles(PHOTO);
  await page.getByRole("link", { name: /^Photo: / }).waitFor();
  await it.act("Place it", "Back: cover");
  // Of each length: its holes' numbers, its figure, its places on the photo.
  for (const [line, numbers] of ["1, 3, 5", "2, 4, 6"].entries()) {
    await press(page.getByRole("link", { name: /^All about it/ }).nth(line));
    await it.tap("Put words right");
    await it.sheet("Put words right");
    await it.tap(/numbers of its holes/);
    await it.type(/numbers of its holes/, numbers);
    await it.act("Keep it", "Holes numbered");
    await it.noSheet();
    await it.tap("Back");
    await it.title("cover");
    await press(page.getByRole("link", { name: /^Place by place/ }).nth(line));
    const caution = page.getByRole("button", { name: "Read, go on" });
    await caution.first().or(pass(page)).first().waitFor();
    while (await caution.count()) await press(caution.first());
    await pass(page).waitFor();
    await it.tap("Stages");
    await it.sheet("Stages");
    await it.tap("+10");
    await it.tap("In one go");
    await it.tap("Use these stages");
    await it.noSheet();
    await it.tap("Order");
    await it.sheet("Order of tightening");
    await markPlaces(it, 3, (n, { width, height }) => {
      const turn = ((2 * n + line) / 6) * 2 * Math.PI;
      const r = 0.4 * Math.min(width, height);
      return { x: width / 2 + r * Math.sin(turn), y: height / 2 - r * Math.cos(turn) };
    });
    await it.tap("Close");
    await it.noSheet();
    if (line === 0) {
      await it.tap("Back");
      await it.title("cover");
    }
  }
  await page.getByText(/^One pass over .*M6 x 20.* and .*M6 x 25.*: 6 in all\.$/).waitFor();
  const drawn = page.getByRole("img", { name: /^Order of tightening: \d(, \d){5}$/ });
  await drawn.locator("image").waitFor({ state: "attached" });
  assert.equal(await drawn.locator(".disc__number").count(), 6);
  for (const [name, size] of [["small", SMALL_PHONE], ["phone", PHONE]]) {
    await page.setViewportSize(size);
    for (const theme of ["light", "dark"]) {
      await page.evaluate((it) => { document.documentElement.dataset.theme = it; }, theme);
      await page.evaluate(() => { for (const it of document.querySelectorAll("*")) it.scrollTop = 0; });
      await screenshot(page, `one-pass-${name}-${theme}`);
    }
  }
  await taps(it, 6);
  const numbers = [];
  for (let n = 0; n < 6; n += 1) {
    const number = Number((await read(page)).match(/Next (\d)/)[1]);
    numbers.push(number);
    // The header says which length it is.
    await it.title(number % 2 ? /M6 x 20/ : /M6 x 25/);
    await taps(it, 1);
    if (n === 2) {
      await page.reload();
      await page.waitForSelector("body[data-ready]", { state: "attached" });
      await pass(page).waitFor();
    }
  }
  for (const n of [0, 2, 4]) assert.equal(Math.abs(numbers[n] - numbers[n + 1]), 3, numbers.join());
  await page.getByText("All final").waitFor();
  const done = (await acts(page)).filter((a) => a.act === "tightened");
  assert.equal(new Set(done.map((a) => `${a.fixing} ${a.places}`)).size, 6);
  assert.equal(new Set(done.map((a) => a.fixing)).size, 2);
  // The last tap taken back, it is that one's turn again.
  await it.tap(/^Undo the last tap/);
  await soon(async () => (await read(page)).includes(`Next ${numbers[5]} `), "the last is not next");
  // The maker's order goes over both lengths, hole by hole.
  await it.tap("Order");
  await it.sheet("Order over all lengths");
  await it.tap("Put in the maker's order");
  for (const n of [6, 5, 4, 3, 1, 2]) await it.tap(RegExp(`^Hole ${n}`));
  await it.tap("Take back the last");
  await page.getByText("5 of 6 tapped").waitFor();
  await page.setViewportSize(SMALL_PHONE);
  assert.deepEqual(await looked(page), []);
  await screenshot(page, "ring-order");
  await page.setViewportSize(PHONE);
  await it.tap(/^Hole 2/);
  await it.act("Use the maker's order", "One pass in the maker's order");
  await it.noSheet();
  await page.getByText("Tighten: 6, 5, 4, 3, 1, 2").waitFor();
  await page.getByText("Loosen: 2, 1, 3, 4, 5, 6").waitFor();
  // Each by itself, and it is so still when the page is opened again.
  await it.act("With the others of this part", "Each by itself");
  await page.getByText("By itself, without the others of this part.").waitFor();
  await page.reload();
  await page.waitForSelector("body[data-ready]", { state: "attached" });
  await page.getByText("By itself, without the others of this part.").waitFor();
  await it.act("With the others of this part", "One pass in the maker's order");
  await page.getByText("Tighten: 6, 5, 4, 3, 1, 2").waitFor();
  assert.deepEqual(complaints, []);
}, 120_000);
