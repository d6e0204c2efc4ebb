// Figures as they are typed, from taking off to the wrench: what is read, what is
// held back with its text kept, and what is said in which unit. All invented.
import assert from "node:assert/strict";
import { acts, hand, newJob, press, readCautions, takeOff, toPart } from "./journey.mjs";
import { looked } from "./looks.mjs";
import { screenshot, SMALL_PHONE, start, test } from "./support.mjs";

const SIZE = "M8 x 30, 13 mm";
const CIRCLIP = "circlip";

/// Begins to log a part, with one size, and opens that size's details.
async function toDetails(it, name) {
  await it.screen("Take off");
  await it.tap("Type it");
  await it.type("Name of the part", name);
  const size = it.page.getByRole("group", { name: "Add a size", exact: true }).getByRole("button", { name: SIZE });
  await press(size);
  await it.tap(/^Details/);
  await it.page.getByRole("dialog").waitFor();
  await it.tap("Add a figure");
}

test("a figure typed at take-off is read, or held back with its text", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open();
  const it = hand(page);
  await newJob(it);
  await toDetails(it, "rim");
  const dialog = page.getByRole("dialog");
  await it.type(/^Stage 1/, "25 lb");
  await dialog.getByText("“lb” is no unit of torque.").waitFor();
  assert.deepEqual(await looked(page), [], "a figure that is not read");
  await screenshot(page, "figure-not-read");
  await it.tap("Done");
  await it.noSheet();
  // Nothing is logged without it: the reason stands, and the text is still there.
  const log = page.getByRole("button", { name: /^Log it, off/ });
  assert.equal(await log.isDisabled(), true);
  await page.getByText(/stage 1: “lb” is no unit/).first().waitFor();
  await it.tap(/^Details/);
  await dialog.waitFor();
  assert.equal(await dialog.getByLabel(/^Stage 1/).inputValue(), "25 lb");

  // A torque after a turn is refused here, not only later.
  await it.type(/^Stage 1/, "90 deg");
  await it.tap("Add a stage");
  await it.type(/^Stage 2/, "30 Nm");
  await dialog.getByText(/a torque after an angle says nothing/).first().waitFor();
  await it.tap("Without stage 2");
  // A range is its middle, and how far off it may be.
  await it.type(/^Stage 1/, "20-22 Nm");
  await dialog.getByText("Read as 21 N·m, ± 1 N·m.").waitFor();
  await it.type("Where the figure is from", "workshop manual, page 112");
  await it.tap("oiled threads");
  assert.deepEqual(await looked(page), [], "a range that was read");
  await screenshot(page, "figure-read");
  // With each came a washer that is used once: a new one is owed for each.
  await it.tap("crush washer");
  await it.tap("14 x 18 x 1.5");
  assert.deepEqual(await looked(page), [], "a washer that is used once");
  await screenshot(page, "figure-used-once");
  await it.tap("Done");
  await it.noSheet();
  await it.act(/^Log it, off/, "Off: rim");
  const undone = (await acts(page)).find((a) => a.act === "fixing-undone");
  assert.deepEqual(undone.detail, {
    stages: ["21 N.m"],
    tolerance: "1 N.m",
    "meant-for": "oiled",
    source: "workshop manual, page 112",
  });
  const washer = (await acts(page)).find((a) => a.act === "item-removed");
  assert.deepEqual([washer.kind, washer.size, washer.n], ["crush-washer", "14 x 18 x 1.5 mm, DIN 7603", undone.n]);
  assert.deepEqual(complaints, []);
});

test("a circlip begins with one, a stepper keeps what it cannot read", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await it.tap("Type it");
  await it.type("Name of the part", "shaft");
  await it.tap("Another size");
  await it.sheet("Another size");
  await it.tap(CIRCLIP);
  await it.tap(/^Add circlip/);
  await it.noSheet();
  const counted = page.getByRole("group", { name: "circlip", exact: true });
  await counted.getByText("1", { exact: true }).waitFor();
  // What is no number stays as typed, and is said.
  await press(counted.getByRole("button", { name: /Type a number/ }));
  const field = counted.getByRole("textbox");
  await field.fill("two");
  await field.press("Enter");
  await counted.getByRole("alert").waitFor();
  assert.equal(await field.inputValue(), "two");
  assert.deepEqual(await looked(page), [], "a count that is no number");
  await press(counted.getByRole("button", { name: /^One more/ }));
  await counted.getByText("2", { exact: true }).waitFor();
  assert.equal(await counted.getByRole("alert").count(), 0);
  await it.act(/^Log it, off/, "Off: shaft");

  // The maker's figure by its stepper: with its unit, or as a range.
  await takeOff(it, "cover", { sizes: [SIZE] });
  await toPart(it, "cover");
  await it.tap(/^All about it/, "link");
  await it.tap("Enter the maker's figure");
  await it.sheet("The maker's figure");
  const stage = page.getByRole("dialog").getByRole("group", { name: "Stage 1", exact: true });
  await press(stage.getByRole("button", { name: /Type a number/ }));
  const typed = stage.getByRole("textbox");
  await typed.fill("10-11 Nm or so");
  await typed.press("Enter");
  await stage.getByRole("alert").waitFor();
  await screenshot(page, "stepper-not-read");
  // Both buttons stay beside it, and nothing is kept without it.
  const steps = await stage.locator(".stepper__button").evaluateAll((all) => all.map((it) => it.getBoundingClientRect().top));
  assert.equal(steps[0], steps[1]);
  assert.equal(await page.getByRole("button", { name: /^Keep it/ }).isDisabled(), true);
  await typed.fill("18-20 ft-lb");
  await typed.press("Enter");
  await stage.getByText("19", { exact: true }).waitFor();
  await it.act("Keep it", "");
  const described = (await acts(page)).findLast((a) => a.act === "fixing-described");
  assert.deepEqual([described.detail.stages, described.detail.tolerance], [["19 lbf.ft"], "1 lbf.ft"]);
  assert.deepEqual(complaints, []);
});

test("the way round for loosening is said before the nuts of a wheel come off", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open();
  const it = hand(page);
  const chip = (row, name) => press(page.getByRole("group", { name: row, exact: true }).getByRole("button", { name, exact: true }));
  await it.go("New job");
  await it.type("Machine", "the van");
  await it.type("Who is at work", "Ann");
  await chip("Start from a procedure", "Disc brake pads, one wheel");
  await it.tap("Open the job");
  await it.title("Disc brake pads, one wheel");
  await it.screen("Take off");
  await chip("From the procedure", "wheel");
  await readCautions(it);
  await page.getByText(/^nut.*loosen in reverse, 5, 4, 3, 2, 1/).first().waitFor();
  await page.getByRole("img", { name: /^Order of tightening/ }).waitFor();
  assert.deepEqual(await looked(page), []);
  await screenshot(page, "loosen");
  await page.evaluate(() => { document.documentElement.dataset.theme = "dark"; });
  await screenshot(page, "loosen-dark");
  assert.deepEqual(complaints, []);
});

test("a taper pipe thread is told from a parallel one by looking along it", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await takeOff(it, "cover", { sizes: [SIZE] });
  await it.screen("Audit");
  await it.go("A fastener turned up");
  await it.title("What is this bolt?");
  const measure = async (label, text) => {
    const group = page.getByRole("group", { name: label, exact: true });
    await press(group.getByRole("button", { name: /Type a number/ }));
    await group.getByRole("textbox").fill(text);
    await group.getByRole("textbox").press("Enter");
  };
  await press(page.getByRole("group", { name: "Nearly, mm" }).getByRole("button", { name: "14", exact: true }));
  await measure("As measured", "13.05");
  await it.tap("10 threads");
  await measure("Over a length of", "13.37");
  await press(page.getByRole("group", { name: "Length measured with" }).getByRole("button", { name: "calliper, ± 0.1" }));
  await page.getByText(/ISO 7-1.*ISO 228-1/).waitFor();
  const along = page.getByRole("group", { name: "Along its length it", exact: true });
  await press(along.getByRole("button", { name: "tapers", exact: true }));
  await page.getByText(/R 1\/4, taper/).first().waitFor();
  await page.reload();
  await page.getByText(/R 1\/4, taper/).first().waitFor();
  assert.deepEqual(await looked(page), []);
  await screenshot(page, "taper");
  await press(along.getByRole("button", { name: "stays the same", exact: true }));
  await page.getByText(/G 1\/4, parallel/).first().waitFor();
  assert.deepEqual(complaints, []);
});
