// What is met seldom, in one short walk: another's entry struck, a look that was
// asked for, a shim of another thickness, a gasket said late, a decision with its
// reason, and a part left off that goes back after all. The job is invented.
import assert from "node:assert/strict";
import { openDemo } from "./app.mjs";
import { acts, hand, newJob, press, readCautions, soon, toPart } from "./journey.mjs";
import { openFile, toJobs } from "./opened.mjs";
import { looked } from "./looks.mjs";
import { SMALL_PHONE, screenshot, start, test } from "./support.mjs";

test("shims, a look asked for, said late, a decision, left off and back, another's entry", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open();
  const it = hand(page);
  const faults = {};
  const look = async (name) => {
    const found = await looked(page);
    if (found.length) faults[name] = found;
    await screenshot(page, `rare-${name}`);
  };
  await openFile(it, "Rocker gear", (say, work) => {
    work.off("cap 1", 2, { reuse: "inspect", extras: ["1 shim | length=2.35"] });
    work.off("cap 2", 2, { extras: ["1 shim | length=2.4"] });
    const sump = work.off("sump", 2);
    say("item-removed", { kind: "gasket", name: "sump gasket", n: 1, on: `part:${sump.part}` });
    say("finding-noted", { on: `part:${sump.part}`, text: "flange pitted" });
    work.back(sump);
    const guard = work.off("guard", 0);
    say("left-off", { what: `part:${guard.part}`, reason: "not needed here" });
  });

  // The last entry is Rosa's and old: it is named and asked about, and stays.
  await it.tap(/^Undo the last entry ?: Left off: guard/);
  await it.sheet("Strike the last entry?");
  await page.getByRole("dialog").getByText(/Rosa$/).waitFor();
  await look("strike");
  await it.tap("Leave it");
  await it.noSheet();

  // Left off by decision, and back after all.
  await it.screen("Find");
  await it.type("Words, a size, or a tag code", "guard");
  await press(page.getByRole("link", { name: /^guard/ }).first());
  await it.title("guard");
  await page.getByText("Left off by decision: not needed here").waitFor();
  await look("left-off");
  await readCautions(it);
  await it.act("It goes back after all", "Back: guard");
  // This person's own, of just now: struck at once, and only here.
  const undo = page.getByRole("button", { name: "Undo", exact: true });
  await undo.waitFor();
  await page.waitForTimeout(1_100);
  await it.screen("Job");
  await soon(async () => !(await undo.count()), "what was said on one screen stays on the next");

  // Old bolts that were to be looked at, and a shim of the other cap's thickness.
  await toPart(it, "cap 1");
  await readCautions(it);
  await look("look");
  await it.act(/^Looked at, all good/, "Looked at");
  await it.act("Place it", "Back: cap 1");
  await press(page.getByRole("link", { name: /^All about it/ }).first());
  await page.getByRole("heading", { name: "Not to be mixed up" }).waitFor();
  await it.tap("Another shim, washer or spacer went in");
  await it.sheet("Another one went in");
  await it.tap(/^2\.4 mm shim/);
  await it.tap("Log it as in");
  const swap = page.getByRole("button", { name: "Log it as a swap" });
  await swap.waitFor();
  await look("swap");
  await press(swap);
  await it.noSheet();
  await page.getByText(/A swap\. The audit names it/).first().waitFor();

  // A gasket that can no more get where it belongs is said with a reason.
  await toPart(it, "sump");
  await it.tap(/^New one fitted/);
  await it.sheet("It cannot get there any more");
  await page.getByRole("group", { name: "Or it is there all the same" }).getByRole("button").first().tap();
  await look("late");
  await it.act("Log it, with this reason", /gasket/);
  await it.noSheet();
  await press(page.getByRole("group", { name: "Decision" }).getByRole("button", { name: "repair", exact: true }));
  await it.sheet("Why: repair");
  await look("why");
  await it.act("It can be made good", "Decided to repair");
  await it.noSheet();

  // How thick a shim is.
  await it.screen("Take off");
  await it.tap("Type it");
  await it.type("Name of the part", "cap 3");
  await page.getByRole("heading", { name: "Fasteners", exact: true }).or(page.getByRole("button", { name: "Read, go on" })).first().waitFor();
  await readCautions(it);
  await it.tap("Another size");
  await it.sheet("Another size");
  await it.tap("shim");
  const thick = page.getByRole("dialog").getByRole("group", { name: "How thick, mm" });
  await thick.waitFor();
  await press(thick.getByRole("button").first());
  await look("shim");
  await it.tap("Close");
  await it.noSheet();

  // An example is nobody's own work: it teaches no name to the next job.
  await toJobs(it);
  await openDemo(page, /^Cooling pump/);
  const off = (await acts(page)).filter((act) => act.act === "part-off").map((act) => act.name);
  await toJobs(it);
  await newJob(it);
  await it.screen("Take off");
  const chips = await page.getByRole("group", { name: "Parts", exact: true }).getByRole("button").allInnerTexts();
  const first = ["cover", "bracket", "hose", "undertray", "belt", "pump", "alternator", "housing"];
  const own = ["cap 1", "cap 2", "sump", "guard", "Type it"];
  assert.ok(off.length > 5 && chips.includes("sump"), chips.join());
  assert.deepEqual(chips.map((it) => it.trim()).filter((it) => !first.includes(it) && !own.includes(it)), []);
  assert.deepEqual(faults, {});
  assert.deepEqual(complaints, []);
});

test("a procedure is followed from the middle of a job, and offers what is not off yet", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open();
  const it = hand(page);
  await newJob(it, { title: "Front brake" });
  await it.tap("Follow a procedure");
  await it.sheet("Follow a procedure");
  assert.deepEqual(await looked(page), []);
  await screenshot(page, "rare-follow");
  await it.act("Disc brake pads, one wheel", "Procedure attached");
  await it.noSheet();
  // Followed already, it is not offered again.
  await it.tap("Follow a procedure");
  await page.getByText("Now: Disc brake pads, one wheel.").waitFor();
  assert.equal(await page.getByRole("dialog").getByRole("button", { name: "Disc brake pads, one wheel" }).count(), 0);
  await it.tap("Close");
  await it.noSheet();
  await it.screen("Take off");
  const planned = page.getByRole("group", { name: "From the procedure", exact: true }).getByRole("button");
  await planned.first().waitFor();
  await page.getByRole("button", { name: "wheel", exact: true }).waitFor();
  assert.deepEqual(complaints, []);
});
