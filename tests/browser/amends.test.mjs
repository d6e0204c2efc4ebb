// What is found out afterwards, in one short walk: names and hole numbers put
// right, a bag changed, a place left empty, a bolt that holds another part, a
// hose that runs behind one or stays off, and rags taken out one by one. The job
// is invented.
import assert from "node:assert/strict";
import { hand, press, readCautions, soon, toPart } from "./journey.mjs";
import { openFile } from "./opened.mjs";
import { looked } from "./looks.mjs";
import { SMALL_PHONE, screenshot, start, test } from "./support.mjs";

test("what was logged is put right, bagged elsewhere, left empty, and taken out one by one", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open();
  const it = hand(page);
  const faults = {};
  const look = async (name) => {
    const found = await looked(page);
    if (found.length) faults[name] = found;
    await screenshot(page, `amends-${name}`);
  };
  await openFile(it, "Pump side", (say, work) => {
    work.off("cuver", 4);
    work.off("bracket", 0);
    say("connection-logged", { kind: "hose", name: "overflow hose", a: { label: "tank", joint: "push-on", parted: true }, b: { label: "pump", joint: "push-on" } });
    say("put-in", { kind: "rag", name: "rag", n: 2, place: "intake port" });
  });

  // Two rags: each is a tap, and the second is not out with the first.
  await it.screen("Put back");
  await it.act(/^One of 2 taken out/, "Taken out: 1 × rag");
  await page.getByText("Do not turn the engine.").first().waitFor();
  await it.act(/^Taken out/, "Taken out: 1 × rag");
  await soon(async () => !(await page.getByText("Do not turn the engine.").count()), "still something inside");

  // A name that was misspelt.
  await toPart(it, "cuver");
  await readCautions(it);
  await it.tap("Put words right");
  await it.sheet("Put words right");
  await look("words");
  await it.tap(/^Its name/);
  const keep = page.getByRole("button", { name: "Keep it" });
  assert.equal(await keep.getAttribute("aria-disabled"), "true");
  await it.type("Its name", "cover");
  await look("word");
  await it.act("Keep it", "Described: cover");
  await it.noSheet();
  await it.title("cover");

  // Into a bag with a code that is written on it.
  await it.tap(/^Move .*bolt/);
  await it.sheet("Into another bag");
  await press(page.getByRole("dialog").getByRole("group", { name: "They lie in" }).getByRole("button", { name: "A new bag" }));
  await page.getByText("Write this on the bag.").waitFor();
  await look("bag");
  await it.act("They lie there now", /Moved: 4 ×/);
  await it.noSheet();
  await soon(async () => /^\d{6}/m.test((await it.lines("Containers")).join("\n")), "no code stands beside them");

  // Hole numbers: what cannot be read says so.
  await press(page.getByRole("link", { name: /^All about it/ }).first());
  await it.tap("Put words right");
  await it.sheet("Put words right");
  await it.tap(/numbers of its holes/);
  await it.type(/numbers of its holes/, "1-4");
  await page.getByText("\"1-4\" is no number of a hole.").waitFor();
  await it.type(/numbers of its holes/, "3, 5, 7, 9");
  await it.act("Keep it", "Holes numbered");
  await it.noSheet();

  // A bolt that clamps the bracket too, and a place with no hole in the new one.
  await it.tap("It also holds another part");
  await it.sheet("It also holds");
  await look("also");
  await it.act("bracket", "Also holds bracket");
  await it.noSheet();
  await it.tap("A washer or the like came with each");
  await it.sheet("More came with each");
  await it.tap("Spacer");
  await it.tap("Washer");
  await look("more");
  await it.act("Add it", "With each came");
  await it.noSheet();
  await it.tap("A place stays empty, by decision");
  await it.sheet("Stays empty, by decision");
  await it.tap("7");
  await look("empty");
  await it.act("The new part has no hole there", /Left off: .*bolt/);
  await it.noSheet();
  await page.getByText("0 of 3, 0 final").waitFor();

  assert.deepEqual(faults, {});
  assert.deepEqual(complaints, []);
});
