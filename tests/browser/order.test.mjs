// The order of going back, the picture and the way in, through the screens.
import assert from "node:assert/strict";
import { openDemo } from "./app.mjs";
import { acts, hand, newJob, putBack, takeOff } from "./journey.mjs";
import { axe } from "./looks.mjs";
import { PHONE, screenshot, start, test } from "./support.mjs";

/// The whole drawing on one sheet, with its words, in ink on white.
async function onPaper(page, it, frame) {
  await page.evaluate(() => {
    globalThis.printed = 0;
    globalThis.print = () => (globalThis.printed += 1);
  });
  await it.tap("Print");
  assert.equal(await page.evaluate(() => globalThis.printed), 1);
  await page.emulateMedia({ media: "print" });
  for (const button of ["Print", "Larger", "Whole"]) {
    assert.equal(await page.getByRole("button", { name: button, exact: true }).isVisible(), false, `${button} is on paper`);
  }
  assert.equal(await page.getByText("The same as a list").isVisible(), false);
  const drawn = frame.getByRole("link").locator("text.node__word");
  assert.equal(await drawn.count(), 60);
  assert.ok(await drawn.evaluateAll((all) => all.every((word) => getComputedStyle(word.parentElement).display !== "none")), "its words are not on paper");
  const sheet = await frame.evaluate((it) => [it.scrollWidth - it.clientWidth, it.scrollHeight - it.clientHeight]);
  assert.ok(sheet.every((over) => over <= 1), `the drawing is cut off by ${sheet}`);
  const pdf = (await page.pdf({ format: "A4" })).toString("latin1");
  assert.equal(pdf.match(/\/Type\s*\/Page[^s]/g).length, 1, "one drawing is one sheet of paper");
  await page.emulateMedia({ media: "screen" });
}

for (const theme of ["Light, for sun", "Dark"]) {
  test(`the picture of sixty parts is read, moved, opened and listed: ${theme}`, async (t) => {
    const { page, complaints, open } = await start(t, { viewport: PHONE });
    await open("#/settings");
    const it = hand(page);
    await it.tap(theme);
    await it.tap("Back");
    await openDemo(page, "Cooling pump and front cover");
    // One tap from the job.
    await it.go("Picture");
    await it.title("Picture");
    const frame = page.getByRole("group", { name: "The job, outermost part at the top" });
    const boxes = frame.getByRole("link");
    assert.equal(await boxes.count(), 60);
    // At full size the letters are of 17 px, and a box is a target.
    const box = frame.getByRole("link", { name: /^alternator bracket, hides a miss/ });
    const letters = box.locator("text").first();
    const size = await letters.evaluate((text) => parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a);
    assert.ok(size >= 17, `letters of ${size} px`);
    // It is what is looked at first, so it lies within the frame.
    const within = async () => {
      const [inner, outer] = [await box.boundingBox(), await frame.boundingBox()];
      return inner.x + inner.width > outer.x && inner.x < outer.x + outer.width && inner.y >= outer.y - 1 && inner.y < outer.y + outer.height;
    };
    assert.ok(await within(), "what to look at first is out of sight");
    // No name runs out of its box.
    const out = await boxes.evaluateAll((all) => all.flatMap((node) => {
      const room = node.querySelector("rect").getBBox().width;
      return [...node.querySelectorAll("text")].filter((text) => text.getBBox().x + text.getBBox().width > room).map((text) => text.textContent);
    }));
    assert.deepEqual(out, []);
    await screenshot(page, `picture-${theme.slice(0, 4)}`);
    const wide = () => frame.evaluate((it) => it.scrollWidth);
    const before = await wide();
    await it.tap("Larger");
    assert.ok((await wide()) > before, "larger is not larger");
    assert.ok(await within(), "it slid out of sight");
    await it.tap("Whole");
    const whole = await frame.evaluate((it) => [it.scrollWidth - it.clientWidth, it.scrollHeight - it.clientHeight]);
    assert.ok(whole.every((over) => over <= 0), `the whole is not within its frame: ${whole}`);
    await frame.evaluate((it) => it.scrollIntoView({ block: "start" }));
    await screenshot(page, `picture-whole-${theme.slice(0, 4)}`);
    assert.deepEqual(await axe(page), []);
    await onPaper(page, it, frame);
    await page.getByText("The same as a list").tap();
    assert.equal((await it.lines("From the outermost in")).length, 60);
    // By keyboard, to the page of the part.
    await box.focus();
    await page.keyboard.press("Enter");
    await it.title("alternator bracket");
    assert.deepEqual(complaints, []);
  });
}

test("the innermost comes first, the way in is found and another one is written down", async (t) => {
  const { page, complaints, open } = await start(t, { viewport: PHONE, context: { reducedMotion: "reduce" } });
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await takeOff(it, "cover", { sizes: [/^M6 x 20/] });
  // A bracket is harmless, the pipe on it is not: said before it is logged.
  const pipe = { press: ["pipe"], fields: { Name: "fuel pipe" } };
  await takeOff(it, "bracket", { sizes: [/^M8 x 25/], after: ["cover"], hose: pipe, held: "Fuel and vapour" });
  await takeOff(it, "pump", { sizes: [/^M8 x 25/], after: ["bracket"] });
  await it.screen("Put back");
  // The main act is what is next, and nothing else is offered.
  await page.getByRole("link", { name: "Next: pump" }).waitFor();
  const now = await it.lines("Can go back now");
  assert.equal(now.length, 1);
  assert.match(now[0], /^pump/);
  const blocked = await it.lines("Something comes first");
  assert.match(blocked.join("\n"), /first: pump[^]*first: bracket|first: bracket[^]*first: pump/);
  assert.deepEqual(await axe(page), []);

  // One tap from its page: another way to the pump. The bracket may go back
  // first by that, and the cover then waits for the pump.
  await it.go("Next: pump");
  await it.title("pump");
  await it.tap("Way in: the least to take off");
  await it.sheet("Way in to pump");
  await it.tap("There is another way");
  await it.tap("cover");
  await it.act("Log this way", /also be reached/);
  assert.deepEqual(await axe(page), []);
  assert.ok((await acts(page)).some((act) => JSON.stringify(act).includes("way-noted")), "the way is not on disk");
  await it.tap("Close");
  await it.noSheet();
  await it.screen("Put back");
  await page.getByRole("link", { name: "Next: pump" }).waitFor();
  assert.match((await it.lines("Can go back now")).join("\n"), /bracket[^]*pump can still be reached: cover is off\./);
  await it.go(/^bracket/);
  await it.title("bracket");
  await page.getByText("pump can still be reached: cover is off.").waitFor();
  await screenshot(page, "still-reached");
  await it.screen("Put back");
  await putBack(it, "bracket");
  // Fuel is looked at by a second person before anything goes over it.
  await it.screen("Put back");
  assert.match((await it.lines("Something comes first")).join("\n"), /first: a second look at fuel pipe[^]* and pump/);
  await it.go(/^bracket/);
  await it.title("bracket");
  await it.tap(/^Second look/);
  await it.sheet("Second look");
  await it.type("Who looks", "Bo");
  await it.act("Looked at by Bo", /fuel pipe/);
  await it.screen("Put back");
  assert.match((await it.lines("Something comes first")).join("\n"), /^cover[^]*first: pump/);
  for (const part of ["pump", "cover"]) {
    await it.screen("Put back");
    await page.getByRole("link", { name: `Next: ${part}` }).waitFor();
    await putBack(it, part);
  }

  // Everything is on: the way in to the pump.
  await it.screen("Take off");
  await it.go("Way in: the least to take off");
  await it.title("Way in");
  await page.getByRole("list", { name: "On again" }).getByRole("button", { name: "pump" }).tap();
  await it.sheet("Way in to pump");
  const steps = page.getByRole("list", { name: "What comes off, in order" }).getByRole("listitem");
  const names = async () => (await steps.allInnerTexts()).map((text) => text.split("\n")[0]);
  // The part and its two bolts.
  await page.getByText("3 acts, about").first().waitFor();
  assert.deepEqual(await names(), ["cover"]);
  assert.match((await it.lines("Other ways")).join(), /or cover and bracket/);
  assert.deepEqual(await axe(page), []);
  await it.tap("Close");
  await it.noSheet();
  // One to the pipe, which Way in alone goes by.
  await page.getByRole("list", { name: "Hoses, pipes, plugs" }).getByRole("button", { name: "fuel pipe" }).tap();
  await it.sheet("Way in to fuel pipe");
  await it.tap("There is another way");
  await it.tap("cover");
  await page.getByText("On the way back its recorded way stays what counts.").waitFor();
  await screenshot(page, "way-to-a-pipe");
  await it.act("Log this way", /also be reached/);
  assert.match((await it.lines("Other ways")).join(), /or cover alone/);
  await it.tap("Close");
  await it.noSheet();

  // The next job on the same machine knows it before its first bolt.
  await page.evaluate(() => (location.hash = "#/"));
  await it.title("Jobs");
  await newJob(it, { title: "Pump again" });
  await it.screen("Take off");
  await it.go("Way in: the least to take off");
  await it.title("Way in");
  await page.getByRole("list", { name: "From Water pump" }).getByRole("button", { name: "pump" }).tap();
  await it.sheet("Way in to pump");
  assert.deepEqual(await names(), ["cover"]);
  await page.getByText(/As it came apart in Water pump\.$/).waitFor();
  assert.equal(await page.getByRole("button", { name: "There is another way" }).count(), 0);
  await it.tap("Close");
  await it.noSheet();

  // What is seen on a part is logged with it, and later on that part.
  await it.screen("Take off");
  await takeOff(it, "housing", { finding: "play in the shaft" });
  await takeOff(it, "guard");
  await it.tap("Rag, cover, fluid, supply, finding");
  await it.sheet("More");
  await it.tap("Finding");
  await it.type("What you found", "worn hole");
  await it.tap("housing");
  await it.act("Log it", "worn hole");
  await it.noSheet();
  const log = await acts(page);
  const housing = log.find((act) => act.act === "part-off" && act.name === "housing").id;
  const found = log.filter((act) => act.act === "finding-noted").map((act) => [act.text, act.on]);
  assert.deepEqual(found.sort(), [["play in the shaft", `part:${housing}-0`], ["worn hole", `part:${housing}-0`]]);
  assert.deepEqual(complaints, []);
});
