// One fixing and its questions, a bolt that turned up, and the to-buy list, as
// a hand goes through them; the taps from a fixing to each answer are counted.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { acts, hand, newJob, press, soon, takeOff, toPart } from "./journey.mjs";
import { looked } from "./looks.mjs";
import { SMALL_PHONE, start, test } from "./support.mjs";

const SIZE = "M8 x 30, 13 mm";

/// From the part's page to the page of its fixing.
async function toFixing(it) {
  await it.tap(/^All about it/, "link");
  await it.title(/^M8 x 30 bolt/);
}

test("a fixing answers each question two taps from its row", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await takeOff(it, "cover", { sizes: [SIZE] });
  await toPart(it, "cover");
  await it.act("Place it", "Back: cover");
  for (const [button, sheet] of [
    ["What thread is it?", "What thread is it?"],
    ["Read the mark on the head", "The mark on the head"],
    ["Measure the hole", "Length against the hole"],
    ["Take new ones", "Take new ones"],
    ["Enter the maker's figure", "The maker's figure"],
    ["Lubricant, thread-locker, sealant", "On its threads"],
  ]) {
    it.done.taps = 0;
    await toFixing(it);
    await it.tap(button);
    await it.sheet(sheet);
    assert.equal(it.done.taps, 2, button);
    await it.tap("Close");
    await it.noSheet();
    await it.tap("Back");
    await it.title("cover");
  }
  await toFixing(it);
  // What has to be bought and what is this bolt: links of the same page.
  for (const [link, title] of [["To buy", "To buy"], ["What is this bolt?", "What is this bolt?"]]) {
    await it.tap("Back");
    await it.title("cover");
    it.done.taps = 0;
    await toFixing(it);
    await it.tap(link, "link");
    await it.title(title);
    assert.equal(it.done.taps, 2, link);
    await page.goBack();
    await it.title(/^M8 x 30 bolt/);
  }
  const tighten = page.getByRole("link", { name: "Tighten it" });
  assert.match(await tighten.getAttribute("href"), /^#\/job\/[^/]+\/tighten\//);

  // The thread that this head is usually found on, with the standard named.
  await it.tap("What thread is it?");
  await it.sheet("What thread is it?");
  await page.getByText(/ISO/).first().waitFor();
  await it.tap(/^M8 x 1.25/);
  await it.saved("Measured");
  await it.noSheet();
  await it.tap("Read the mark on the head");
  await it.tap("10.9");
  await it.tap("Keep 10.9 by ISO 898-1");
  await it.saved("Measured");
  await it.noSheet();
  await it.title(/10\.9$/);

  // 30 under 8 mm reaches 22 into 20: refused, the sum shown, wherever it is started.
  await it.tap("Measure the hole");
  await press(page.getByRole("group", { name: "Parts and gasket under the head, mm" }).getByRole("button", { name: "8", exact: true }));
  await press(page.getByRole("group", { name: "Hole, to the end of its thread, mm" }).getByRole("button", { name: "20", exact: true }));
  await it.tap("aluminium");
  await page.getByRole("dialog").getByText("30 − 8 = 22 mm into a hole of 20 mm").waitFor();
  await it.act("Keep it", "Hole of");
  await it.noSheet();
  await page.getByText(/It would bottom, 2 mm too long/).waitFor();
  await it.tap("Back");
  await it.title("cover");
  await it.tap(/^All 2 started by hand/);
  await page.getByText(/30 long - 8 under the head = 22 into a hole of 20 mm/).first().waitFor();
  await toFixing(it);
  await it.tap("Measure the hole");
  await it.tap("2 mm");
  await it.act("Keep it", "Hole of");
  await it.noSheet();
  await it.tap("Back");
  await it.title("cover");

  // New ones by one decision, the old ones by another, with a reason.
  await toFixing(it);
  await it.tap("Take new ones");
  await it.act("New ones go in", "from now on");
  await it.noSheet();
  await it.tap("Fit the old ones all the same");
  await it.sheet("Fit the old ones all the same");
  await it.tap("none to be had");
  await it.act("The old ones go back", "Old ones go back");
  await it.noSheet();
  await page.getByText("The old ones go back: none to be had (Ann).").waitFor();
  await it.tap("Lubricant, thread-locker, sealant");
  await it.tap("thread-locker");
  await it.tap("medium strength");
  await it.act("It wants this", "Prescribed: thread-locker");
  await it.noSheet();
  await it.tap("Back");
  await it.title("cover");
  await it.act(/^All 2 started by hand/, "Started");

  // Under a thicker stack they hold 8 mm in aluminium, which wants 12: final only with a reason.
  await toFixing(it);
  await it.tap("Measure the hole");
  await press(page.getByRole("group", { name: "Parts and gasket under the head, mm" }).getByRole("button", { name: "20", exact: true }));
  await it.act("Keep it", "Hole of");
  await it.noSheet();
  await it.tap("Tighten it", "link");
  const read = page.getByRole("button", { name: "Read, go on" });
  await read.first().waitFor();
  while (await read.count()) await press(read.first());
  await page.getByText("Too little thread: 30 − (20 + 2) = 8 mm into a hole of 20 mm").waitFor();
  await it.tap("Fit a longer one, or say why not");
  await it.sheet("Too little thread");
  // 34 mm and more hold enough, 42 and more would bottom.
  await page.getByRole("dialog").getByRole("button", { name: "Out, and fit 35 mm ones" }).waitFor();
  await it.tap("only until a longer one comes");
  await it.act("Final all the same", "Tightened, final");
  await it.noSheet();
  // The reason stands for the other one too.
  await it.act(/^Bolt 2 tight/, "Tightened, final");
  await it.screen("Audit");
  const accepted = (await it.lines("Accepted as it is")).join("\n");
  assert.match(accepted, /none to be had/);
  assert.match(accepted, /Final on too little thread.*only until a longer one comes/s);
  const written = (await acts(page)).map((a) => a.act);
  for (const act of ["fixing-measured", "hole-measured", "fixing-renewed", "old-kept", "treatment-prescribed"]) {
    assert.ok(written.includes(act), act);
  }
  assert.deepEqual(complaints, []);
}, 90_000);

test("a bolt of the floor is measured, owed in both jobs, and settled in both", async (t) => {
  const { complaints, open, page, server } = await start(t);
  await open();
  const it = hand(page);
  const jobs = async () => {
    await page.goto(server.url + "#/");
    await it.title("Jobs");
  };
  const job = async (title) => {
    await newJob(it, { title });
    await it.screen("Take off");
    await takeOff(it, "cover", { sizes: [SIZE] });
  };
  await job("Old pump");
  await jobs();
  await job("Belt");
  // From each of three screens it is two taps at most.
  for (const [tab, name] of [["Job", "A fastener turned up"], ["Find", "What is this bolt?"], ["Audit", "A fastener turned up"]]) {
    await it.screen(tab);
    await it.go(name);
    await it.title("What is this bolt?");
  }
  await page.getByText("Begin with whatever is at hand.").waitFor();
  await press(page.getByRole("group", { name: "Nearly, mm" }).getByRole("button", { name: "8", exact: true }));
  await it.tap("As measured to 7.95");
  await it.tap("As measured to 7.9");
  await page.getByText(/^Next, what would tell most/).waitFor();
  await it.tap("10 threads");
  await page.getByText("As good as sure: M8 x 1.25").waitFor();
  await press(page.getByRole("group", { name: "Length, mm" }).getByRole("button", { name: "30", exact: true }));
  await it.tap("floor");
  // What was measured is there again when the page is loaded anew.
  await page.reload();
  await page.getByText("As good as sure: M8 x 1.25").waitFor();
  await it.tap("2 places");
  assert.equal((await it.lines("It may be from")).length, 2);
  await it.act("Log it as found, origin unknown", "Found, unknown: M8 x 30 bolt");
  // What was told is on the screen once it is on the disk.
  const strays = async (n, why) => {
    await it.screen("Audit");
    const rows = page.getByRole("link", { name: /^Identify it.*M8 x 30 bolt/ });
    await soon(async () => (await rows.count()) === n, why);
  };
  const other = async (title) => {
    await jobs();
    await press(page.getByRole("link", { name: new RegExp(title) }));
    await it.title(title);
  };
  await strays(1, "not owed in the job at hand");
  await other("Old pump");
  await strays(1, "not owed in the other job");
  // Measured once more and still of no place: that is kept, in both.
  await it.tap(/^Identify it/, "link");
  await it.title("What is this bolt?");
  await it.tap(/^Identify it/);
  await page.getByRole("button", { name: "None of these: it stays as found" }).waitFor();
  await press(page.getByRole("group", { name: "Sizes in" }).getByRole("button", { name: "inches" }));
  await page.getByRole("group", { name: "Nearly, inches" }).waitFor();
  await press(page.getByRole("group", { name: "Sizes in" }).getByRole("button", { name: "millimetres" }));
  await press(page.getByRole("group", { name: "Across flats, or key" }).getByRole("button", { name: "13 mm", exact: true }));
  await it.act("None of these: keep what was measured", "Measured again, still unknown: M8 x 30 bolt");
  await soon(async () => (await acts(page)).filter((a) => a.act === "stray-measured").length === 2, "not kept in both");
  await strays(1, "measured again, it is not owed any more");
  // Identified in the other: it is of the belt job, and both are settled.
  await it.tap(/^Identify it/, "link");
  await it.title("What is this bolt?");
  await it.tap(/^Identify it/);
  await it.tap("2 places");
  const row = page.getByRole("list", { name: "It may be from" }).getByRole("listitem").filter({ hasText: "in Belt" });
  await press(row.getByRole("button", { name: /^It is from here/ }));
  await it.saved(/Moved: 1 × M8 x 30 bolt/);
  await strays(0, "still owed where it was identified");
  await other("Belt");
  await strays(0, "still owed where it belongs");
  const written = await acts(page);
  assert.equal(written.filter((a) => a.act === "stray-found").length, 2);
  assert.equal(written.filter((a) => a.act === "stray-settled")[0].reason, "belongs to Belt");
  assert.equal(written.filter((a) => a.act === "stray-identified").length, 1);
  assert.deepEqual(complaints, []);
}, 90_000);

test("a bolt in another's place is refused, then logged as the swap it is", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  // A job in inches is offered inch sizes first.
  await it.go("New job");
  await it.type("Machine", "the tractor");
  await it.type("What the job is", "Loader");
  await it.type("Who is at work", "Ann");
  await it.tap("inches");
  await it.tap("Open the job");
  await it.title("Loader");
  await it.screen("Take off");
  const [short, long] = [/^5\/16-18 x 1 in/, /^5\/16-18 x 1 1\/4 in/];
  await takeOff(it, "cover", { sizes: [short, long] });
  await toPart(it, "cover");
  await it.act("Place it", "Back: cover");
  await press(page.getByRole("link", { name: /^All about it.* x 1 in bolt/ }));
  await it.title(short);
  assert.equal((await it.lines("Sizes on the same part")).length, 2);
  // And its hole is measured in inches.
  await it.tap("Measure the hole");
  await press(page.getByRole("group", { name: "Parts and gasket under the head, inches" }).getByRole("button", { name: "3/8", exact: true }));
  await press(page.getByRole("group", { name: "Hole, to the end of its thread, inches" }).getByRole("button", { name: "1", exact: true }));
  await press(page.getByRole("button", { name: /^Hole, as measured to 1.125/ }));
  await page.getByRole("dialog").getByText("1 − 0.375 = 0.625 in into a hole of 1.125 in").waitFor();
  await it.act("Keep it", "Hole of");
  await it.noSheet();
  await it.tap("Another one went in");
  await it.sheet("Another one went in");
  await it.tap(long);
  await it.tap("Log it as in");
  await page.getByRole("dialog").getByText(/Place 1 wants 5\/16-18 x 1 in bolt.* would then be one short/).waitFor();
  await it.act("Log it as a swap", "Started");
  await it.noSheet();
  await page.getByText(/^Place 1 holds 5\/16-18 x 1 1\/4 in bolt/).waitFor();
  await it.screen("Audit");
  await page.getByText(/Wrong fastener.*holds 5\/16-18 x 1 1\/4 in/).first().waitFor();
  assert.deepEqual(complaints, []);
});

test("the to-buy list merges parts, is ordered by a tap, and goes out as text and CSV", async (t) => {
  const { context, complaints, open, page } = await start(t, { context: { acceptDownloads: true } });
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await takeOff(it, "cover", { gasket: true });
  await takeOff(it, "pump", { gasket: true });
  await it.screen("Job");
  await it.go("The whole list");
  await it.title("To buy");
  const rows = await it.lines("To buy");
  assert.equal(rows.length, 1, "like things are one line");
  assert.match(rows[0], /1 for cover; 1 for pump/);
  await it.act(/^Ordered/, "Ordered");
  await page.getByText("All of it is on order.").waitFor();
  await it.tap("Copy as text");
  await page.getByText("Copied. Paste it into a message.").first().waitFor();
  const text = await page.evaluate(() => navigator.clipboard.readText());
  assert.match(text, /^To buy: Water pump\n2 × gasket.*\(2 on order\): 1 for cover; 1 for pump\n$/);
  // A phone would share it; here it is saved as a file.
  await page.evaluate(() => { navigator.canShare = undefined; });
  const download = page.waitForEvent("download");
  await it.tap("Save as CSV");
  const saved = await download;
  assert.match(saved.suggestedFilename(), /\.csv$/);
  const csv = readFileSync(await saved.path(), "utf8");
  assert.match(csv, /^what,to buy,on order,for\r\ngasket[^\r]*,2,2,1 for cover; 1 for pump\r\n$/);
  await it.act(/^All arrived/, "Arrived");
  await page.getByText("Nothing to buy.").waitFor();
  assert.deepEqual(complaints, []);
});

test("the pages of a fixing, a bolt and the list, in both themes: axe, targets, nothing across the edge", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open();
  const it = hand(page);
  const faults = {};
  const see = async (where) => {
    const found = await looked(page);
    if (found.length) faults[where] = found;
  };
  await it.tap("Look at an example");
  await press(page.getByRole("list", { name: "Examples" }).getByRole("button", { name: /^Cooling pump/ }));
  await it.title(/^Cooling pump/);
  await it.go("The whole list");
  await it.title("To buy");
  await see("To buy");
  await it.screen("Put back");
  await press(page.getByRole("list", { name: /^Can go back now$|: \d+ acts?$/ }).getByRole("link").first());
  await press(page.getByRole("link", { name: /^All about it/ }).first());
  await page.getByRole("link", { name: "Tighten it" }).waitFor();
  await see("Fixing");
  for (const name of ["What thread is it?", "Read the mark on the head", "Measure the hole", /^(Take new ones|Fit the old ones all the same)$/, /the (maker's )?figure$/, "Lubricant, thread-locker, sealant"]) {
    await it.tap(name);
    await it.sheet(/./);
    await see(`sheet ${name}`);
    await it.tap("Close");
    await it.noSheet();
  }
  await it.screen("Find");
  await it.go("What is this bolt?");
  await it.title("What is this bolt?");
  await press(page.getByRole("group", { name: "Nearly, mm" }).getByRole("button", { name: "8", exact: true }));
  await it.tap("10 threads");
  await see("What is this bolt?");
  await it.tap(/^\d+ places?$/);
  await see("What is this bolt?, places");
  assert.deepEqual(faults, {});
  assert.deepEqual(complaints, []);
}, 120_000);
