// The browser is killed while a hand taps on: whatever the app had shown as
// saved is there at the next start, and no tap is there by half. Each round
// ends at a moment that the seed chooses, so a failure can be had again.
import assert from "node:assert/strict";
import { dice } from "./dice.mjs";
import { acts, hand, newJob, press } from "./journey.mjs";
import { newProfile, openApp, openBrowser, processOf, startServer, test } from "./support.mjs";

// How often it is killed; more rounds are asked for from outside.
const ROUNDS = Number(process.env.ROUNDS ?? 6);
const SEED = 20260411;

// Tells each "Saved." that the page shows to the test at once, out of reach of
// what happens to the page.
const TELL = () => {
  let last = "";
  const look = () => {
    for (const it of document.querySelectorAll('[role="status"]')) {
      const text = it.textContent;
      if (!text.startsWith("Saved. ") || text === last) continue;
      last = text;
      globalThis.shownAsSaved(text);
    }
  };
  new MutationObserver(look).observe(document, { subtree: true, childList: true, characterData: true });
};

test("killed at any moment: what was shown as saved is there, and nothing by half", async (t) => {
  const server = await startServer(t);
  const profile = newProfile();
  const roll = dice(SEED);
  const shown = new Set();
  const offs = (all) => all.filter((act) => act.act === "part-off").map((act) => act.name);
  const reopened = [];
  let named = 0;
  let kinds;
  for (let round = 0; round <= ROUNDS; round += 1) {
    const context = await openBrowser(t, { profile, timeout: 15_000, whole: true });
    await context.exposeFunction("shownAsSaved", (text) => shown.add(text));
    await context.addInitScript(TELL);
    const page = context.pages()[0];
    await openApp(page, server.url);
    const it = hand(page);
    if (round === 0) {
      await newJob(it);
      await it.screen("Take off");
    }
    // Where it was goes in with every act: it opens there as soon as one is.
    const heading = await page.getByRole("heading", { level: 1 }).innerText();
    reopened.push(heading);
    if (shown.size) assert.equal(heading, "Take off", `round ${round}: not where it was`);
    if (heading === "Jobs") await it.go(/^Water pump/);
    if (heading !== "Take off") await it.screen("Take off");
    await it.title("Take off");

    const all = await acts(page);
    const names = offs(all);
    const lost = [...shown].map((text) => text.match(/Off: (piece \d+)/)?.[1]).filter((name) => name && !names.includes(name));
    assert.deepEqual(lost, [], `round ${round}: shown as saved and not there`);
    assert.equal(new Set(names).size, names.length, "a tap is there twice");
    for (const off of all.filter((act) => act.act === "part-off")) {
      const first = off.with ?? off.id;
      const tap = all.filter((act) => act.id === first || act.with === first).map((act) => act.act).join();
      kinds ??= tap;
      assert.equal(tap, kinds, `round ${round}: ${off.name} is there by half`);
    }
    assert.equal(await page.getByText("Entries are missing on this phone").count(), 0);
    if (round === ROUNDS) break;

    const pid = processOf(profile);
    const gone = new Promise((done) => context.once("close", done));
    let killed = false;
    setTimeout(() => {
      killed = true;
      process.kill(pid, "SIGKILL");
    }, 300 + Math.floor(roll() * 1500));
    try {
      for (;;) {
        const field = page.getByLabel("Name of the part", { exact: true });
        if (!(await field.count())) await it.tap("Type it");
        await field.fill(`piece ${(named += 1)}`);
        await press(page.getByRole("group", { name: "Add a size", exact: true }).getByRole("button", { name: /^M6 x 20\b/ }));
        await it.act("Log it, off", `Off: piece ${named}`);
      }
    } catch (error) {
      if (!killed) throw error;
    }
    await gone;
  }
  t.diagnostic(`${ROUNDS} kills, ${shown.size} shown as saved and 0 of them lost, ${named} begun, each ${kinds}; opened at ${[...new Set(reopened)]}`);
  assert.match(kinds, /part-off.*fixing-undone/);
  assert.ok(shown.size >= ROUNDS, "hardly anything was saved before the kills");
}, 60_000 + ROUNDS * 10_000);
