// A brake job from a procedure, worked by the left hand: what was forgotten is
// added, what was said wrongly is put right, and what was done is taken back
// from wherever the person is.
import assert from "node:assert/strict";
import { acts, confirmAll, hand, joinEnds, press, pressAll, soon, takeOff, toPart } from "./journey.mjs";
import { measured } from "./looks.mjs";
import { SMALL_PHONE, start, test } from "./support.mjs";

const group = (page, name) => page.getByRole("group", { name, exact: true });
const chip = (page, row, name) => press(group(page, row).getByRole("button", { name, exact: typeof name === "string" }));

test("a job from a procedure: what was forgotten is added, what was wrong is put right or struck", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open("#/settings");
  const it = hand(page);
  await it.tap("Left");
  await it.tap("Back");
  await it.title("Jobs");
  await it.go("New job");
  await it.type("Machine", "the van");
  await it.type("Who is at work", "Ann");
  await chip(page, "Start from a procedure", "Disc brake pads, one wheel");
  await it.tap("Open the job");
  await it.title("Disc brake pads, one wheel");
  // How the job was opened is not struck, so nothing offers it.
  assert.equal(await page.getByRole("button", { name: /^Undo the last entry/ }).count(), 0);
  await confirmAll(it);
  // The main act and its undo change sides with the hand.
  const undo = page.getByRole("button", { name: "Undo the last entry" });
  const [left, act] = [await undo.boundingBox(), await page.getByRole("link", { name: "Take off" }).first().boundingBox()];
  assert.ok(left.x + left.width <= act.x && left.y > 400, "the undo is not by the left thumb");

  // As the procedure has it: the wheel, then the caliper, swung aside with one slide pin only slackened.
  const planned = async (name) => {
    await it.screen("Take off");
    await chip(page, "From the procedure", name);
    const read = page.getByRole("button", { name: "Read, go on" });
    const ready = page.getByRole("heading", { name: "Fasteners", exact: true });
    await read.or(ready).first().waitFor();
    while (await read.count()) await press(read.first());
    await ready.waitFor();
  };
  await planned("wheel");
  await it.act("Log it, off", "Off: wheel");
  await planned("caliper");
  await it.tap(/^Details ?:? bolt/);
  await it.sheet(/^bolt/);
  await it.tap("One more: Only slackened");
  await it.tap("Done");
  await it.noSheet();
  await it.tap("More about it");
  await it.sheet("More");
  await it.tap("Swung aside, not off");
  await it.tap("Close");
  await it.noSheet();
  await it.act("Log it, swung aside", "Swung aside: caliper");
  const undone = (await acts(page)).filter((a) => a.act === "fixing-undone").at(-1);
  assert.deepEqual([undone.n, undone.slackened], [2, 1]);
  await it.screen("Take off");
  await it.tap("cover");
  await it.tap(/^M6 x 20\b/);
  await it.tap("More about it");
  await it.sheet("More");
  await it.tap("sealant");
  await it.tap("Close");
  await it.noSheet();
  await it.act("Log it, off", "Off: cover");
  await takeOff(it, "bracket");

  // Forgotten, and added to the caliper's own page.
  await toPart(it, "caliper");
  await page.getByText("swung aside").first().waitFor();
  const add = async (what, fill, said, title) => {
    // A hose has its own place on the page.
    if (!title) {
      await it.tap("More about it");
      await it.sheet("caliper");
    }
    await it.tap(what);
    await it.sheet(title ?? what);
    await fill();
    assert.deepEqual(await measured(page), [], what);
    await it.act("Log it", said);
    await it.noSheet();
  };
  await add("Another fastener", async () => {
    await chip(page, "Size", /^M8 x 25\b/);
    await it.tap("One more: How many");
  }, "Undone: 2 × M8 x 25 bolts");
  for (const [name, far] of [["wear sensor plug", "loom"], ["ABS plug", "wing"]]) {
    await add("Another hose or plug", async () => {
      await chip(page, "Kind", "plug");
      await it.type("Name", name);
      await it.type("The other end is at", far);
    }, `Logged: plug ${name}`, "Hose or plug");
  }
  await add("A gasket or seal", () => chip(page, "Kind", "crush washer"), "Used once, removed: 1 × crush washer");
  await add("A port laid open", () => chip(page, "Usual", "oil passage"), "Laid open: oil passage");
  await add("It came after", () => chip(page, "Off before it", "cover"), "caliper came after cover");
  await page.getByText(/^It came after .*cover \(in the way\)/).waitFor();
  await page.getByText("It shuts oil passage.").waitFor();
  await it.tap(/^Parted too wear sensor plug/);
  await it.saved("Parted: wear sensor plug, end at loom");
  // One plug on the other's seat is refused, logged as it is, named, and put right.
  await it.tap(/^On another seat ABS plug, end at caliper/);
  await it.sheet("On another seat");
  await chip(page, "It is on the seat of", "wear sensor plug, end at caliper");
  await it.tap("It is on there");
  await page.getByRole("dialog").getByText(/does not belong there/).waitFor();
  await it.act("Log it as it is", "Joined: ABS plug");
  await it.noSheet();
  await it.screen("Audit");
  await page.getByText(/^ABS plug, end at caliper is on the seat of wear sensor plug/).first().waitFor();
  await toPart(it, "caliper");
  await it.act(/^Parted again ABS plug/, "Parted: ABS plug");
  await joinEnds(it);
  await it.screen("Audit");
  await page.getByRole("heading", { name: "Still off" }).waitFor();
  for (const gone of ["Put right", "Join"]) assert.equal(await page.getByRole("list", { name: gone, exact: true }).count(), 0, gone);

  // The new cover brings longer bolts: the old ones are spares. Its sealant goes on.
  await toPart(it, "cover");
  await it.tap("More about it");
  await it.sheet("cover");
  await it.tap("It brings other fasteners");
  await it.sheet("It brings other fasteners");
  await chip(page, "Size", /^M6 x 25\b/);
  await it.tap(/^M6 x 25.* in place of M6 x 20/);
  await it.act("Log it", "New part in place of cover");
  await it.noSheet();
  await page.getByRole("heading", { name: /^M6 x 25/ }).waitFor();
  await it.act(/^Put on sealant/, "Put on: sealant on cover");

  // The bag lies elsewhere, and holds one less than it should.
  await it.screen("Job");
  const bag = page.getByRole("button", { name: /^It lies elsewhere now/ }).first();
  await press(bag);
  await it.sheet(/^bag/);
  await chip(page, "It lies now", "shelf");
  await it.act("It lies there", "lies: shelf");
  await it.noSheet();
  await press(page.getByRole("button", { name: /^5 × nut/ }));
  await it.sheet(/^nut of wheel/);
  await it.tap("One less: Really there");
  await it.act("4 counted", "Moved: 1 × nut of wheel");
  await it.noSheet();
  await it.screen("Audit");
  await it.act(/^Found nut|^Found .*nut/, "Moved: 1 × nut of wheel");

  // Left off by decision; struck in the log.
  await toPart(it, "bracket");
  await it.tap("More about it");
  await it.sheet("bracket");
  await it.type("Why, or what was found", "not needed any more");
  await it.act("Left off by decision", "Left off: bracket");
  await it.noSheet();
  await it.screen("Job");
  await press(page.getByRole("list", { name: "Last entry" }).getByRole("link"));
  await it.title("Log");
  await it.act(/^Strike Left off: bracket/, "Struck: Left off: bracket");
  await toPart(it, "bracket");
  await page.getByRole("button", { name: "Place it" }).waitFor();

  // A finding of the whole job: the audit leads to it; decided, mended; and
  // taken back from the audit, where it is owed again.
  await it.screen("Take off");
  await it.tap("Rag, cover, fluid, supply, finding");
  await it.sheet("More");
  await it.tap("Finding");
  await it.type("What you found", "crack in the frame");
  await it.act("Log it", "crack in the frame");
  await it.noSheet();
  await it.screen("Audit");
  const owed = page.getByRole("link", { name: /crack in the frame/ });
  await press(owed);
  await it.title("Disc brake pads, one wheel");
  await chip(page, "Decision", "repair");
  await it.sheet("Why: repair");
  await it.tap("It can be made good");
  await it.saved("Decided to repair");
  await it.act(/^Work done crack in the frame/, "Work done");
  await it.screen("Audit");
  assert.equal(await owed.count(), 0);
  await it.act(/^Undo the last entry/, "Struck: Work done: crack in the frame");
  await owed.waitFor();

  // Besides: a line of one's own to buy, and another title and unit.
  await it.screen("Job");
  await press(page.getByRole("link", { name: /^(The whole list|To buy: nothing yet)$/ }));
  await it.title("To buy");
  await it.tap("Another thing to buy");
  await it.sheet("Another thing to buy");
  await chip(page, "Usual", "cleaner");
  await it.act("List it", "To buy: 1 × cleaner");
  await it.noSheet();
  assert.match((await it.lines("To buy")).join("\n"), /cleaner/);
  await it.screen("Job");
  await it.tap("Title, machine, units");
  await it.sheet("What the job says");
  await it.type("What the job is", "Front brakes");
  await it.tap("lbf·ft");
  await it.act("Keep it", "Job described: Front brakes");
  await it.noSheet();
  await it.title("Front brakes");
  await soon(async () => (await acts(page)).at(-1)["torque-unit"] === "lbf.ft", "the unit is not kept");
  assert.deepEqual(await measured(page), []);
  assert.deepEqual(complaints, []);
}, 150_000);
