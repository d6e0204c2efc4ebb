// What makes somebody wait on the way back, and what then frees it: a cure, a
// delivery, a part that the same bolt holds, weight and heat; in which order
// and with which tool the rest is done; and what is left off by decision. One
// page for all; the jobs are invented.
import assert from "node:assert/strict";
import { acts, hand, press, pressAll, readCautions, soon, toPart } from "./journey.mjs";
import { openFile, toJobs } from "./opened.mjs";
import { start, test } from "./support.mjs";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
// A Saturday, five past ten.
const SATURDAY = Date.UTC(2026, 4, 2, 10, 5);

const main = (page) => page.getByRole("main").innerText();
/// Wants to say that the oil is in, with a reason, and answers why that cannot be tapped.
async function fillRefused(it) {
  await it.tap(/^Fill ?:? Out: oil/);
  await it.sheet("Fill with oil");
  assert.match(await it.page.getByRole("dialog").innerText(), /Curing: sealant silicone/);
  await it.tap("What is open holds none of it");
  const anyway = it.page.getByRole("dialog").getByRole("button", { name: /^Filled all the same/ });
  assert.equal(await anyway.isDisabled(), true);
  const said = await anyway.innerText();
  await it.tap("Close");
  await it.noSheet();
  return said;
}

/// Goes to a part, and reads what stands before the next act on it.
async function at(it, name) {
  await toPart(it, name);
  await readCautions(it);
}

const reload = async (page) => {
  await page.reload();
  await page.waitForSelector("body[data-ready]", { state: "attached" });
};

test("a cure holds the filling whatever the clock says, and its end is known at reopening", async (t) => {
  const { complaints, open, page } = await start(t, { context: { timezoneId: "UTC" } });
  const clock = (time) => page.clock.setFixedTime(time);
  await clock(SATURDAY - HOUR);
  await open();
  const it = hand(page);
  await openFile(it, "Sump", (say, work) => {
    const sump = work.off("sump", 4);
    const on = `part:${sump.part}`;
    say("treatment-prescribed", { kind: "sealant", product: "silicone", on, "cure-min": 24 * 60, "open-min": 10, "holds-fill": true, "holds-start": true });
    work.off("bracket", 2);
    say("fluid-drained", { name: "oil", amount: "4 l" });
  });
  await at(it, "sump");
  await clock(SATURDAY);
  await it.act(/^Put on /, /Put on|Applied/);
  // Closed at 10:18, where the tube says ten minutes.
  await clock(SATURDAY + 13 * MINUTE);
  await it.act("Place it", "Back: sump");
  await pressAll(it, /^All \d+ started by hand/);
  await pressAll(it, /^All tight/);
  await clock(SATURDAY + 6 * HOUR);
  await it.screen("Audit");
  assert.match(await main(page), /Closed after its open time: sealant silicone/);
  assert.match(await fillRefused(it), /Still curing: sealant silicone.*, until Sun 3 May, 10:05\./);
  // Other work is offered, and what the cure holds is said beside it.
  await it.screen("Put back");
  await page.getByRole("link", { name: "Next: bracket" }).waitFor();
  assert.match((await it.lines("Held up by")).join(), /[Cc]ure.*silicone[^]*10:05[^]*filling and starting|silicone[^]*filling and starting/);
  // Set back by a week, under way and over a restart: nothing is unlocked.
  await clock(SATURDAY - 7 * 24 * HOUR);
  for (const again of [() => {}, () => reload(page)]) {
    await again();
    await it.screen("Audit");
    assert.match(await fillRefused(it), /until Sun 3 May, 10:05\./);
  }
  assert.ok(!(await acts(page)).some((act) => act.act === "fluid-filled"));
  // It ends while the app is closed: the next start says so, and how that is known.
  await clock(SATURDAY + 25 * HOUR);
  await reload(page);
  await it.screen("Put back");
  await page.getByText(/^sealant silicone.*: put on .*, over Sun 3 May, 10:05 by this phone's clock$/).waitFor();
  await at(it, "bracket");
  await it.act("Place it", "Back: bracket");
  await pressAll(it, /^All \d+ started by hand/);
  await pressAll(it, /^All tight/);
  await it.screen("Audit");
  await it.tap(/^Fill ?:? Out: oil/);
  await it.sheet("Fill with oil");
  await it.act(/^Filled/, "Filled: oil");
  assert.deepEqual(complaints, []);
});

test("what waits says for what, and is freed by it; the rest goes by position, tool and route", async (t) => {
  const { complaints, open, page } = await start(t);
  await open();
  const it = hand(page);

  // A delivery: what it holds up, and nothing else.
  await openFile(it, "Oil feed", (say, work) => {
    const tank = work.off("tank", 2);
    const feed = work.off("oil feed", 1, { spec: "bolt | thread=M10 x 1", after: [`hides part:${tank.part}`] });
    say("item-removed", { kind: "crush-washer", name: "washer", n: 2, on: `part:${feed.part}` });
    work.off("chain guard", 2);
  });
  await it.screen("Put back");
  const now = async () => (await it.lines("Can go back now")).join("\n");
  assert.match(await now(), /^chain guard/);
  assert.doesNotMatch(await now(), /tank|oil feed/);
  assert.match((await it.lines("Waiting")).join(), /oil feed[^]*waits for delivery: .*washer/);
  const held = await it.lines("Held up by");
  assert.equal(held.length, 1);
  assert.match(held[0], /holds up 2 acts, about/);
  assert.match(held[0], /oil feed and tank|tank and oil feed/);
  assert.match((await it.lines("Something comes first")).join(), /tank[^]*first: oil feed/);
  await it.act(/^Arrived/, /Arrived: 2 × .*washer/);
  await soon(async () => /oil feed/.test(await now()), "the oil feed is not freed");
  assert.equal(await page.getByRole("list", { name: "Held up by" }).count(), 0);
  // Old ones put in stay a temporary, and are owed.
  await at(it, "oil feed");
  await it.tap(/^Old one, for now/);
  await it.sheet("Old one, for now");
  await it.act("No new one to hand", /Old one fitted.*washer|washer/);
  await it.noSheet();
  await page.getByText("old one fitted, a temporary").waitFor();
  await it.screen("Audit");
  assert.match(await main(page), /[Oo]ld .*washer|washer.*temporary/);
  await toJobs(it);

  // Nine, four of them from below: under it once.
  await openFile(it, "Underside", (say, work) => {
    for (let n = 1; n <= 9; n += 1) {
      const below = n % 2 === 0;
      const tool = below && n === 4 ? "long ring spanner" : "13 mm socket";
      work.off(`plate ${n}`, 2, { detail: { tool, way: below ? "below" : "above", ...(n === 4 && { "spanner-only": true, watch: "spring behind it" }) } });
    }
  });
  await it.screen("Put back");
  const groups = (await page.getByRole("heading", { level: 3 }).allInnerTexts()).sort();
  assert.deepEqual(groups, ["From above: 5 acts", "From below: 4 acts"]);
  await page.getByText(/In this order: 1 change of position .*the last off first would be 8 changes of position/).waitFor();
  // The tool is said before anyone goes in with the wrong one.
  await it.go(/^plate 4\b/);
  await it.title("plate 4");
  await readCautions(it);
  await page.getByRole("button", { name: "Place it" }).waitFor();
  await page.getByText(/^How: .*long ring spanner/).waitFor();
  await page.getByText("spring behind it").waitFor();
  await toJobs(it);

  // A hose that runs behind the arm.
  await openFile(it, "Rear axle", (say, work) => {
    const arm = work.off("support arm", 2);
    const part = `${arm.part}`;
    say("connection-logged", {
      kind: "hose",
      name: "fuel return hose",
      a: { label: "rail", joint: "push-on", parted: true },
      b: { label: "tank", joint: "push-on", parted: true },
      route: [{ kind: "behind", part }],
    });
  });
  await it.screen("Put back");
  const route = "fuel return hose (behind support arm)";
  assert.ok((await it.lines("Something comes first")).join().includes(`first: ${route}`));
  await it.go(/^support arm\b/);
  await it.title("support arm");
  await readCautions(it);
  await it.tap("Place it");
  await it.sheet("support arm would hide what is owed");
  assert.match((await it.lines("What it would hide")).join(), /^fuel return hose[^]*behind support arm/);
  await it.tap("Leave it off for now");
  await it.noSheet();
  await it.screen("Put back");
  // What it carries is warned of once, before the first end.
  await it.tap(/^On fuel return hose, end at rail/);
  await page.getByRole("dialog").waitFor();
  await readCautions(it);
  await it.act(/^On fuel return hose, end at rail/, "Joined: fuel return hose, end at rail");
  await it.noSheet();
  await it.act(/^On fuel return hose, end at tank/, "Joined: fuel return hose, end at tank");
  await pressAll(it, /^(Clip tight|Fully on|Tight) /);
  await at(it, "support arm");
  await it.act("Place it", "Back: support arm");
  await toJobs(it);

  // One bolt that holds two parts.
  await openFile(it, "Alternator", (say, work) => {
    const bracket = work.off("hose bracket");
    work.off("alternator", 1, { spec: "bolt | thread=M8 x 1.25 | length=70", also: [bracket.part] });
  });
  await at(it, "alternator");
  await it.act("Place it", "Back: alternator");
  await pressAll(it, /^All 1 started by hand/);
  await page.getByText("Also holds: hose bracket").waitFor();
  await page.getByText(/^Not final yet: also holds hose bracket, still off/).waitFor();
  assert.equal(await page.getByRole("button", { name: /^All tight/ }).count(), 0);
  await it.screen("Job");
  assert.match(await main(page), /1\s*loose fasteners?|0\s*loose fasteners?/);
  await at(it, "hose bracket");
  await it.act("Place it", "Back: hose bracket");
  await it.screen("Audit");
  // The bolt was in before the bracket came: it is asked after.
  assert.match(await main(page), /Doubtful: 1 × M8/);
  await it.go(/^Doubtful: 1 × M8/);
  await it.title("alternator");
  await it.go("Look at 1 in doubt, one by one");
  await it.title(/^M8 x 70/);
  await readCautions(it);
  await it.tap("Bolt 1 touched again, tight");
  await it.saved(/M8 x 70/);
  await it.screen("Audit");
  assert.doesNotMatch(await main(page), /Not tight|Doubtful/);
  await toJobs(it);

  // Final waits for the neighbours, then the weight, then the heat.
  await openFile(it, "Arm", (say, work) => {
    const stages = ["80 N.m"];
    const arm = work.off("control arm", 2, { spec: "bolt | thread=M12 x 1.75 | length=80", detail: { stages } });
    say("fixing-undone", { parts: [arm.part], spec: "bolt | thread=M12 x 1.75 | length=60", n: 1, reuse: "reuse", went: ["1 bench"], detail: { stages } });
    work.place(arm);
    for (const until of ["neighbours", "loaded", "hot"]) say("final-held", { fixing: arm.fixing, until });
    work.start(arm);
  });
  await at(it, "control arm");
  await page.getByText("Not final yet: only when all its neighbours are in.").first().waitFor();
  await press(page.getByRole("button", { name: /^All 1 started by hand/ }));
  await page.getByText("Not final yet: only while it bears its weight.").first().waitFor();
  await it.go(/^Place by place ?:? M12 x 80/);
  const cautions = page.getByRole("button", { name: "Read, go on" });
  await cautions.or(page.getByRole("region", { name: "The pass" })).first().waitFor();
  while (await cautions.count()) await press(cautions.first());
  const tighten = page.locator(".pass-act button");
  assert.equal(await tighten.isDisabled(), true);
  await it.act("It bears its weight now", "It is so, while it bears its weight");
  await page.getByText("Not final yet: only at working heat.").first().waitFor();
  assert.equal(await tighten.isDisabled(), true);
  await it.act("It is hot now", "It is so, at working heat");
  const tightened = async () => (await acts(page)).filter((act) => act.act === "tightened").length;
  for (let n = 0; n < 2; n += 1) {
    const before = await tightened();
    await tighten.tap();
    await soon(async () => (await tightened()) > before, "it is not tightened");
  }
  await page.getByText("All final").waitFor();
  await toJobs(it);

  // Left off by decision.
  await openFile(it, "Auxiliary pump", (say, work) => {
    const pump = work.off("auxiliary pump", 2);
    for (const name of ["feed hose", "return hose"]) {
      say("connection-logged", { kind: "hose", name, a: { part: pump.part, label: "pump", joint: "clamped", parted: true }, b: { label: "engine", joint: "clamped" } });
    }
    say("connection-logged", { kind: "plug", name: "pump plug", a: { part: pump.part, label: "pump", joint: "clicked", parted: true }, b: { label: "loom", joint: "clicked" } });
  });
  await at(it, "auxiliary pump");
  await it.tap("More about it");
  await it.sheet("auxiliary pump");
  await page.getByText(/the law where you are/).waitFor();
  assert.equal(await page.getByRole("button", { name: "Left off by decision" }).isDisabled(), true);
  await it.type("Why, or what was found", "live end of the plug hangs free");
  await it.act("Finding", /live end of the plug hangs free/);
  await it.noSheet();
  await it.tap("More about it");
  await it.type("Why, or what was found", "dead, the heater works without");
  await it.act("Left off by decision", /Left off.*auxiliary pump/);
  await it.noSheet();
  await page.getByText("dead, the heater works without").first().waitFor();
  // Its hoses hang open: each is owed a word, one tap.
  await it.screen("Audit");
  assert.equal((await it.lines("Join")).length, 3);
  await it.go(/^Open: feed hose/);
  await it.title("auxiliary pump");
  await pressAll(it, /^Left off with it/);
  await it.screen("Audit");
  const owed = await main(page);
  assert.doesNotMatch(owed, /Not in:|Open:|Off:|[Oo]wed: auxiliary/);
  await it.go(/live end of the plug/);
  await it.title("auxiliary pump");
  await it.tap("repair");
  await it.sheet("Why: repair");
  await it.tap("It can be made good");
  await it.noSheet();
  await it.act(/^Work done/, "Work done");
  await it.screen("Audit");
  assert.equal(await page.getByRole("link", { name: /live end of the plug/ }).count(), 0);
  assert.match(JSON.stringify(await acts(page)), /"left-off".*"reason":"dead, the heater works without"/);
  assert.deepEqual(complaints, []);
});
