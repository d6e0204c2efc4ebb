// The last part of a job through the screens: what is inside stops the machine,
// the page for whoever takes over, the guard after a break, the second look,
// checks after running, and the sign-off. The jobs are invented.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { acts, hand, newJob, press, pressAll, readCautions, soon, toPart } from "./journey.mjs";
import { openFile, toJobs } from "./opened.mjs";
import { screenshot, start, test } from "./support.mjs";

const text = (page) => page.getByRole("main").innerText();
const nothingOwed = (words) => assert.doesNotMatch(words, /everything|complete|signed off|nothing against/i);

test("a rag in port 2 and a 10 mm socket stop the machine before any word of success", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await openFile(it, "Manifold", (say, work) => {
    const manifold = work.off("manifold", 41);
    const rag = say("put-in", { kind: "rag", name: "rag", n: 2, place: "port 2" });
    say("put-in", { kind: "tool", name: "10 mm socket", n: 1 });
    const pins = say("put-in", { kind: "locking-pin", name: "timing pin", n: 2 });
    say("taken-out", { inside: rag, n: 1 });
    say("taken-out", { inside: pins, n: 2 });
    say("fluid-drained", { name: "coolant", amount: "6 l" });
    work.back(manifold);
  });
  const said = async () => (await text(page)).split("\n").filter(Boolean);
  const inside = /Still inside: .*rag in port 2.*Still inside: 10 mm socket/;
  let lines = await said();
  const verdict = lines.findIndex((line) => /^Do not turn the engine/.test(line));
  assert.match(lines[verdict + 1], inside);
  nothingOwed(lines.slice(0, verdict).join("\n"));
  // Each question is answered with all that is missing; one tap.
  it.done.taps = 0;
  await it.tap(/^Turn it by hand/);
  await it.sheet("Turn it by hand");
  assert.equal(it.done.taps, 1);
  const missing = await it.lines("What stands against it");
  assert.match(missing.join("\n"), /port 2 \(1 of 2 still in\)[^]*10 mm socket/);
  await page.getByRole("dialog").getByText(/^Do not turn it: 2 things stand against it/).waitFor();
  await it.tap("Close");
  await it.noSheet();
  await it.screen("Audit");
  lines = await said();
  assert.match(lines[1], /^Do not turn the engine/);
  assert.match(lines[2], inside);
  // Filling is refused with the same, and goes on only with a reason.
  await it.tap(/^Fill (?!with)/);
  await it.sheet("Fill with coolant");
  assert.match((await it.lines("Settle it first")).join("\n"), /port 2[^]*10 mm socket/);
  await it.tap("What is open holds none of it");
  await it.act(/^Filled all the same/, "Filled: coolant");
  await it.noSheet();
  // Nor can it be closed, or handed over without saying so.
  await it.go(/^Sign-off: 4 still open/);
  await it.title("Sign-off");
  assert.equal(await page.getByRole("button", { name: /^Sign off/ }).isDisabled(), true);
  await it.screen("Job");
  await it.go("Handover page");
  await it.title(/^Handover: /);
  const stops = await it.lines("Do not");
  assert.equal(stops.length, 2);
  assert.ok(stops.every((line) => /^DO NOT TURN: Still inside: /.test(line)), stops.join());
  assert.deepEqual(complaints, []);
});

test("one page hands a job over: the danger first, and every number adds up", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await openFile(it, "Week five", (say, work) => {
    say("supply-isolated", { name: "battery", kind: "battery" });
    say("fluid-drained", { name: "coolant", amount: "7 l" });
    const parts = Array.from({ length: 17 }, (_, n) => {
      const it_ = work.off(`part ${n}`, 4, { lies: `shelf ${n % 4}` });
      if (n >= 14) say("item-removed", { kind: "gasket", name: `gasket ${n}`, n: 1, on: `part:${it_.part}` });
      return it_;
    });
    parts.slice(0, 8).forEach(work.back);
    work.place(parts[8]);
    work.start(parts[8]);
  });
  it.done.taps = 0;
  await it.go("Handover page");
  await it.title(/^Handover: /);
  assert.equal(it.done.taps, 1);
  assert.deepEqual(await it.lines("Do not"), ["DO NOT START: no coolant", "DO NOT START: still cut off: battery"]);
  const headings = (await page.getByRole("heading", { level: 2 }).allInnerTexts()).map((it) => it.replace(/\s+/g, " "));
  assert.deepEqual(headings.slice(0, 3), ["Do not", "Looks done, is not 4", "Parts"]);
  assert.deepEqual(await it.lines("Parts"), ["5 ready + 3 waiting = 8 parts to go back", "9 back + 8 to go back = 17 parts in all"]);
  assert.equal((await it.lines("Ready to go back")).length, 5);
  assert.equal((await it.lines("Waiting")).length, 3);
  // On paper it is the page alone, all of it.
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.getByRole("navigation").first().isVisible(), false);
  assert.equal(await page.getByRole("button", { name: "Hand it on as text" }).isVisible(), false);
  assert.equal(await page.getByText("DO NOT START: no coolant").isVisible(), true);
  const sheets = (await page.pdf({ format: "A4" })).toString("latin1").match(/\/Type\s*\/Page[^s]/g);
  assert.equal(sheets.length, 1, "one page is one sheet of paper");
  await page.emulateMedia({ media: "screen" });
  await page.evaluate(() => {
    globalThis.printed = 0;
    globalThis.print = () => (globalThis.printed += 1);
  });
  await it.tap("Print it");
  assert.equal(await page.evaluate(() => globalThis.printed), 1);
  // As text, by whatever way this browser has.
  const file = page.waitForEvent("download");
  await it.tap("Hand it on as text");
  const written = readFileSync(await (await file).path(), "utf8");
  const order = ["DO NOT START: no coolant", "Looks done, is not: 4", "= 8 parts to go back", "= 17 parts in all", "gasket 14"];
  const at = order.map((words) => written.indexOf(words));
  assert.deepEqual(at, [...at].sort((a, b) => a - b), written);
  assert.ok(at.every((it) => it >= 0), written);
  assert.deepEqual(complaints, []);
});

test("a cure and a hold stand on the page for whoever takes over", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await openFile(it, "Sump", (say, work) => {
    const tray = work.off("tray", 3);
    const sump = work.off("sump", 4, { after: [`hides part:${tray.part}`] });
    const on = `part:${sump.part}`;
    say("treatment-prescribed", { kind: "sealant", product: "grey paste", on, "cure-min": 600, "holds-cover": true });
    const panel = work.off("panel", 2);
    const arm = work.off("link arm", 1, { after: [`hides part:${panel.part}`] });
    say("final-held", { fixing: arm.fixing, until: "loaded" });
    work.place(arm);
    work.start(arm);
  });
  await toPart(it, "sump");
  await it.act(/^Put on/, "Put on: ");
  await readCautions(it);
  await it.act("Place it", "Back: sump");
  await pressAll(it, /^All \d+ started by hand/);
  await pressAll(it, /^All tight/);
  await it.screen("Job");
  await it.go("Handover page");
  await it.title(/^Handover: /);
  const stops = await it.lines("Do not");
  assert.equal(stops.length, 1);
  assert.match(stops[0], /^DO NOT START: still curing until .*: sealant grey paste on sump$/);
  assert.match((await it.lines("Looks done, is not")).join(), /^Not tight: 1 × .* of link arm$/);
  // What waits for the weight keeps nothing off; what cures under it does.
  assert.deepEqual(await it.lines("Parts"), ["1 ready + 1 waiting = 2 parts to go back", "2 back + 2 to go back = 4 parts in all"]);
  assert.match((await it.lines("Ready to go back")).join(), /^panel\b/);
  assert.deepEqual(await it.lines("Waiting"), ["tray, for the cure of sealant grey paste on sump"]);
  assert.deepEqual(complaints, []);
});

test("after a break the last three are touched again, one tap each", async (t) => {
  const { complaints, open, page } = await start(t);
  await open("#/settings");
  const it = hand(page);
  await it.tap("5 minutes");
  assert.equal(await page.getByRole("button", { name: "5 minutes", pressed: true }).count(), 1);
  await it.tap("Back");
  await it.title("Jobs");
  await openFile(it, "Cover", (say, work) => {
    const cover = work.off("cover", 11);
    work.place(cover);
    work.start(cover);
    for (let place = 0; place < 7; place += 1) work.tight({ ...cover, places: [place] });
  });
  const asked = async () => {
    const all = await page.getByRole("button", { name: /^Sure/ }).allInnerTexts();
    return all.map((it) => it.match(/Place \d+/)[0]);
  };
  // A job that came this moment was in nobody's hand here.
  assert.deepEqual(await asked(), []);
  // The app goes down, and comes back where it was.
  await page.reload();
  await page.waitForSelector("body[data-ready]", { state: "attached" });
  await it.title("Cover");
  await page.getByText(/^The app was closed under way\. Last in hand: /).waitFor();
  await page.getByText("Then tighten place 8.").waitFor();
  assert.deepEqual(await asked(), ["Place 5", "Place 6", "Place 7"]);
  await it.act("Go on", "Went on, not touched again");
  assert.deepEqual(await asked(), []);
  // Another job is opened, and then this one again.
  await toJobs(it);
  await newJob(it);
  await toJobs(it);
  await it.go(/^Cover\b/);
  await it.title("Cover");
  await page.getByText(/^You were at another job\./).waitFor();
  assert.deepEqual(await asked(), ["Place 5", "Place 6", "Place 7"]);
  it.done.taps = 0;
  await it.act(/^Sure Place 5/, "Touched and sure");
  await it.act(/^Not sure Place 6/, "Not sure");
  await soon(async () => (await asked()).join() === "Place 7", "two are answered, and one is left");
  await it.tap(/^Sure Place 7/);
  await soon(async () => !(await asked()).length, "the card does not go");
  assert.equal(it.done.taps, 3);
  const said = (await acts(page)).filter((it) => it.act === "touched").map((it) => [it.places, it.sure ?? false]);
  assert.deepEqual(said, [[[4], true], [[5], false], [[6], true]]);
  // What was answered is not asked again.
  await page.reload();
  await page.waitForSelector("body[data-ready]", { state: "attached" });
  await it.title("Cover");
  assert.deepEqual(await asked(), []);
  assert.deepEqual(complaints, []);
});

test("only a long absence is a break, and it is asked about until it is answered", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await openFile(it, "Cover", (say, work) => {
    work.off("lid", 2);
    const cover = work.off("cover", 11);
    work.place(cover);
    work.start(cover);
    for (let place = 0; place < 7; place += 1) work.tight({ ...cover, places: [place] });
  });
  const card = (why) => page.getByText(new RegExp(`^${why} Last in hand: `));
  const asked = async () => {
    const all = await page.getByRole("button", { name: /^Sure/ }).allInnerTexts();
    return all.map((it) => it.match(/Place \d+/)[0]);
  };
  const minutes = (n) => page.evaluate((n) => {
    const now = Date.now;
    Date.now = () => now() + n * 60_000;
  }, n);
  const seen = (state) => page.evaluate((state) => {
    Object.defineProperty(document, "visibilityState", { configurable: true, get: () => state });
    document.dispatchEvent(new Event("visibilitychange"));
  }, state);
  // Ten seconds away, and then three minutes by hand with the phone in sight.
  await seen("hidden");
  await minutes(1 / 6);
  await seen("visible");
  await minutes(3);
  await it.screen("Audit");
  await it.screen("Job");
  assert.deepEqual(await asked(), []);
  await seen("hidden");
  await minutes(10);
  await seen("visible");
  await card("You were away\\.").waitFor();
  assert.deepEqual(await asked(), ["Place 5", "Place 6", "Place 7"]);
  // Another part is placed: that answers nothing, here or after the next start.
  await toPart(it, "lid");
  await readCautions(it);
  await it.act("Place it", "Back: lid");
  assert.deepEqual(await asked(), ["Place 5", "Place 6", "Place 7"]);
  await page.reload();
  await page.waitForSelector("body[data-ready]", { state: "attached" });
  await it.title("lid");
  await card("The app was closed under way\\.").waitFor();
  assert.deepEqual(await asked(), ["Place 5", "Place 6", "Place 7"]);
  await it.act(/^Sure Place 5/, "Touched and sure");
  await soon(async () => (await asked()).length === 2, "what was answered is still asked");
  await it.act("Go on", "Went on, not touched again");
  assert.deepEqual(await asked(), []);
  const said = (await acts(page)).filter((it) => ["touched", "went-on"].includes(it.act)).map((it) => it.act);
  assert.deepEqual(said, ["touched", "went-on"]);
  assert.deepEqual(complaints, []);
});

test("a second look, checks after running, a sign-off and its opening again", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);
  await openFile(it, "Front brakes", (say, work) => {
    say("safe-step-listed", { kind: "supported", text: "on stands" });
    const wheel = work.off("wheel", 3);
    const caliper = work.off("brake caliper", 2, { detail: { safety: true }, after: [`hides part:${wheel.part}`] });
    say("after-run-owed", { kind: "retighten", on: `part:${wheel.part}`, due: { km: 50 } });
    const on = `part:${caliper.part}`;
    const treatment = say("treatment-prescribed", { kind: "sealant", product: "silicone", on, "cure-min": 60, "holds-start": true, "holds-cover": true });
    say("treatment-applied", { treatment });
    work.back(caliper);
  });
  // Said late, it is settled and stays readable.
  await it.tap(/^Confirm on stands/);
  await it.sheet(/on stands/);
  const asked = page.getByRole("dialog");
  await asked.getByRole("heading", { name: "Vehicle off the ground" }).waitFor();
  assert.equal(await asked.getByRole("button", { name: /^Confirm/ }).isDisabled(), true);
  await readCautions(it);
  await it.act(/^Confirm on stands/, "Confirmed late: on stands");
  await it.noSheet();
  await page.getByText("confirmed late, when something was off already").waitFor();
  // What the wheel would hide is said on its page, before it is placed.
  await toPart(it, "wheel");
  const hides = await it.lines("It would hide what is owed");
  assert.equal(hides.length, 1);
  const price = "1 part, 3 fasteners, about \\d+ minutes?\\.";
  assert.match(hides[0], new RegExp(`brake caliper[^]*No second person has looked: brakes[^]*Forgotten, it costs ${price}`));
  // What was read before the step was confirmed is not asked once more.
  assert.equal(await page.getByRole("heading", { name: "Vehicle off the ground" }).count(), 0);
  await it.tap("Place it");
  await it.sheet("wheel would hide what is owed");
  await page.getByText(new RegExp(`^Once wheel is on, getting at it again costs ${price} Minutes`)).waitFor();
  await it.tap("Leave it off for now");
  await it.noSheet();
  // Not by the one who did it, whatever is typed; by another name it counts.
  await it.tap(/^Second look/);
  await it.sheet("Second look");
  await page.getByText(/^Done by Rosa\./).waitFor();
  await it.type(/^(Who looks|Somebody else)$/, "rosa");
  await it.tap("Looked at by rosa");
  await it.noSheet();
  await page.getByRole("alert").filter({ hasText: "other eyes" }).waitFor();
  await it.tap("Read");
  await it.tap(/^Second look/);
  await it.sheet("Second look");
  await it.type(/^(Who looks|Somebody else)$/, "Bo");
  await it.act("Looked at by Bo", "Checked by a second person");
  await it.noSheet();
  await soon(async () => (await page.getByRole("list", { name: "It would hide what is owed" }).count()) === 0, "it still hides");
  await it.act("Place it", "Back: wheel");
  await pressAll(it, /^All \d+ started by hand/);
  await pressAll(it, /^All tight/);

  // After running: a reading too low is asked for again, a check falls due.
  await it.screen("Job");
  const meter = async (reads) => {
    await it.tap(/^Read the meter/);
    await it.sheet("Read the meter");
    await it.type("It reads, km", reads);
  };
  await meter("100000");
  await it.act("Log the reading", "Read off: 100000 km");
  await it.noSheet();
  await meter("99,9");
  await page.getByText("It read 100000 km before. Read it again.").waitFor();
  assert.equal(await page.getByRole("button", { name: /^Log the reading/ }).isDisabled(), true);
  await it.type("It reads, km", "100050");
  await it.act("Log the reading", "Read off: 100050 km");
  await it.noSheet();
  assert.match((await it.lines("After running")).join(), /re-tighten: wheel[^]*due now: 50 km run/);
  await page.getByText("Due: re-tighten: wheel").first().waitFor();
  await toJobs(it);
  assert.match((await it.lines("Jobs")).join(), /Due: re-tighten: wheel/);
  await it.go(/^Front brakes/);
  await it.tap("It ran");
  await it.sheet("Start it");
  // Cured while the app was closed: this phone's clock alone says so.
  await page.getByRole("dialog").getByText(/^sealant silicone on brake caliper: put on .*, over .* by this phone's clock\.$/).waitFor();
  await screenshot(page, "by-clock");
  await it.act("It ran, a short while", "Run, a short while");
  await it.noSheet();

  // Closed with an exception that carries a name and a reason; opened again.
  // What was said faster than a hand can is touched, place by place.
  await it.screen("Audit");
  const again = page.getByRole("heading", { name: "Touch these again" });
  await again.waitFor();
  await pressAll(it, /^Place \d+ ?, touch/);
  await soon(async () => (await again.count()) === 0, "it still asks to be touched");
  await it.tap(/^Accept as it is/);
  await it.sheet("Accept as it is");
  await it.type("Why, in words", "the owner does it");
  await it.type("Somebody else", "Ann");
  await it.act("Accept, with my name", "Accepted as it is");
  await it.noSheet();
  await it.go("Sign off");
  await it.title("Sign-off");
  assert.match((await it.lines("To be known")).join(), /on stands: confirmed .* when the first part was off already/);
  // A name for one act says nothing of who signs.
  await it.tap("Ann");
  await it.act("Sign off", "Signed off");
  await page.getByText("Signed off with 1 exception.").waitFor();
  assert.match((await it.lines("Accepted as it is")).join(), /the owner does it/);
  await it.screen("Job");
  await page.getByText("Signed off.").first().waitFor();
  await it.go("Sign-off");
  await it.tap("Open the job again");
  await it.sheet("Open the job again");
  await it.tap("More work");
  await it.act("Open it again", "Reopened: More work");
  await it.noSheet();
  assert.match((await it.lines("Closed and opened")).join("\n"), /Signed off[^]*Reopened: More work/);
  assert.deepEqual(complaints, []);
}, 120_000);
