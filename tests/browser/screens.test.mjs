// Every screen on a small phone, in both themes: what axe-core finds, targets
// for a glove, nothing wider than the screen; long names, long lists, another
// language's numbers.
import assert from "node:assert/strict";
import { acts, hand, keptDraft, newJob, press, readCautions, takeOff, toPart } from "./journey.mjs";
import { jobFile } from "./jobfile.mjs";
import { axe, looked, measured } from "./looks.mjs";
import { PHONE, SMALL_PHONE, start, test } from "./support.mjs";

// Walks over every screen and sheet and calls `look` on each.
async function everyScreen(it, look) {
  const { page } = it;
  const sheet = async (open, name, close = "Close") => {
    await open();
    await it.sheet(name);
    await look(`sheet ${name}`);
    await it.tap(close);
    await it.noSheet();
  };
  await look("Jobs, none");
  await it.go("New job");
  await it.title("New job");
  await look("New job");
  await it.tap("Back");
  await it.go("Settings");
  await it.title("Settings");
  await look("Settings");
  await it.go("About and cautions");
  await it.title("About");
  await look("About");
  await it.tap("Back");
  await it.title("Settings");
  await it.tap("Back");
  await it.title("Jobs");
  // The list is there already where the New job screen has read it.
  const offer = page.getByRole("button", { name: "Look at an example" });
  const examples = page.getByRole("list", { name: "Examples" });
  await offer.or(examples).first().waitFor();
  if (await offer.count()) await press(offer);
  await press(examples.getByRole("button", { name: /^Cooling pump/ }));
  await it.title(/^Cooling pump/);
  await look("Job");
  await press(page.getByRole("list", { name: "Last entry" }).getByRole("link"));
  await it.title("Log");
  await look("Log");
  await it.screen("Take off");
  await look("Take off, nothing chosen");
  await sheet(() => it.tap("Rag, cover, fluid, supply, finding"), "More");
  await it.tap("Type it");
  await it.type("Name of the part", "starter, brake pipe and fuel filter");
  await page.getByRole("button", { name: "Read, go on" }).first().waitFor();
  await look("Take off, cautions");
  const read = page.getByRole("button", { name: "Read, go on" });
  while (await read.count()) await press(read.first());
  await press(page.getByRole("group", { name: "Add a size" }).getByRole("button").first());
  await look("Take off, an entry");
  const details = page.getByRole("button", { name: /^Details/ });
  await sheet(async () => {
    await press(details.first());
    await it.sheet(/./);
    await it.tap("Add a figure");
  }, /./);
  await sheet(() => it.tap("Hose or plug"), "Hose or plug");
  const first = page.getByRole("group", { name: "It could be reached" });
  await sheet(() => press(first.getByRole("button", { name: /^All \d+$/ })), "It could be reached");
  await sheet(async () => {
    await it.tap("More about it");
    await it.sheet("More");
    await it.tap("Finding");
  }, "More");
  await sheet(() => it.tap("Gasket, seal"), "Used once");
  await sheet(() => it.tap("Another size"), "Another size");
  await it.screen("Put back");
  await look("Put back");
  await press(page.getByRole("list", { name: /^Can go back now$|: \d+ acts?$/ }).getByRole("link").first());
  await page.getByRole("button", { name: "Place it" }).waitFor();
  await look("part");
  await sheet(() => it.tap("More about it"), /./);
  const photo = page.getByRole("link", { name: /^Photo: / });
  if (await photo.count()) {
    await press(photo.first());
    await page.getByRole("button", { name: "Set a mark" }).waitFor();
    await look("photo");
    await it.tap("Back");
    await page.getByRole("button", { name: "Place it" }).waitFor();
  }
  await readCautions(it);
  await it.tap("Place it");
  const placed = page.getByRole("link", { name: "Back to the list" });
  await placed.or(page.getByRole("dialog")).first().waitFor();
  if (await page.getByRole("dialog").count()) await it.tap("Place it all the same");
  await placed.waitFor();
  await look("part, placed");
  await press(page.getByRole("link", { name: /^Place by place/ }).first());
  const cautions = page.getByRole("button", { name: "Read, go on" });
  await cautions.first().waitFor();
  await look("pass, caution");
  while (await cautions.count()) await press(cautions.first());
  await page.getByRole("region", { name: "The pass" }).waitFor();
  await look("pass");
  await sheet(async () => {
    await it.tap("Order");
    await it.tap("circle");
  }, "Order of tightening");
  await sheet(() => it.tap("Stages"), "Stages");
  await sheet(async () => {
    await it.tap("Wrench");
    await it.tap("An adapter is on it");
  }, "On the wrench");
  await sheet(() => press(page.getByRole("button", { name: /^Place \d/ }).first()), /^Place \d/);
  await it.screen("Audit");
  await look("Audit");
  const folded = page.getByRole("main").getByRole("button", { expanded: false });
  while (await folded.count()) await press(folded.first());
  await look("Audit, all of it");
  await sheet(() => press(page.getByRole("button", { name: /^Accept as it is/ }).first()), "Accept as it is");
  await it.go(/^Sign-off/);
  await it.title("Sign-off");
  await look("Sign-off");
  await it.screen("Audit");
  await page.getByRole("heading", { name: "Audit", exact: true }).waitFor();
  while (await folded.count()) await press(folded.first());
  await sheet(() => press(page.getByRole("button", { name: /^Second look/ }).first()), "Second look");
  await it.screen("Job");
  await it.go("Handover page");
  await it.title(/^Handover: /);
  await look("Handover");
  await it.screen("Job");
  await sheet(() => it.tap(/^Turn it by hand/), "Turn it by hand");
  await sheet(() => it.tap(/^Fill (?!with)/), /^Fill /);
  await sheet(() => it.tap("It ran"), "Start it");
  await sheet(() => it.tap(/^Read the meter/), "Read the meter");
  await sheet(() => it.tap("Owe a check"), "Owe a check");
  await it.screen("Find");
  await look("Find, nothing asked");
  await it.type("Words, a size, or a tag code", "10 mm");
  await page.getByRole("list", { name: "Found" }).waitFor();
  await look("Find");
  await it.type("Words, a size, or a tag code", "123456");
  await page.getByText("is no tag code").or(page.getByText("of no job")).first().waitFor();
  await look("Find, a wrong tag");
}

test("every screen, in both themes: axe, targets, nothing across the edge", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open("#/settings");
  const it = hand(page);
  const theme = () => page.evaluate(() => document.documentElement.dataset.theme);
  for (const [name, value] of [["Dark", "dark"], ["Light, for sun", "light"]]) {
    await it.tap(name);
    assert.equal(await theme(), value);
  }
  await it.tap("Back");
  await it.title("Jobs");
  const faults = {};
  const seen = [];
  await everyScreen(it, async (where) => {
    seen.push(String(where));
    const found = await looked(page);
    if (found.length) faults[`${seen.length} ${where}`] = found;
  });
  t.diagnostic(`${seen.length} screens and sheets`);
  assert.deepEqual(faults, {});
  assert.deepEqual(complaints, []);
}, 240_000);

const LONG = "Exhaust gas recirculation cooler bypass valve actuator bracket, upper left (new)";

test("names of 80 letters stay on the screen", async (t) => {
  assert.equal(LONG.length, 80);
  // One word that cannot be broken, too.
  const word = "Kurbelwellenriemenscheibenschwingungsdaempferbefestigungsschraubensatzhalterung1";
  assert.equal(word.length, 80);
  const { open, page } = await start(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  await open();
  const it = hand(page);
  await openFile(it, word, function* (say) {
    yield { name: LONG, lies: word, note: word };
    yield { name: word, lies: LONG, note: LONG };
    say("item-removed", { kind: "gasket", name: word, size: LONG, n: 1, on: say.last });
    say("put-in", { kind: "rag", name: word, n: 1, place: LONG });
    say("fluid-drained", { name: word, amount: LONG });
    say("finding-noted", { on: say.last, text: word });
  });
  const faults = {};
  const look = async (where) => {
    const found = await measured(page);
    if (found.length) faults[where] = found;
  };
  const job = page.url();
  // By address: what does not fit may put the bar out of reach.
  for (const path of ["", "/log", "/take-off", "/put-back", "/audit", "/find"]) {
    await page.goto(job + path);
    await page.waitForSelector("body[data-ready]", { state: "attached" });
    await page.getByRole("heading", { level: 1 }).waitFor();
    if (path === "/take-off") {
      await it.tap("hose");
      await page.getByRole("heading", { name: "Fasteners", exact: true }).waitFor();
    }
    await look(path);
    if (path === "/put-back") {
      const parts = await page.getByRole("link", { name: RegExp(`^(${word}|Exhaust gas)`) }).evaluateAll((all) => all.map((it) => it.hash));
      assert.ok(parts.length >= 2, "the parts are not listed");
      for (const part of new Set(parts)) {
        await page.goto(job.split("#")[0] + part);
        await page.getByRole("button", { name: "Place it" }).waitFor();
        await look("part");
      }
    }
  }
  assert.deepEqual(faults, {});
});

// Opens a file of a job from the list of jobs, and comes out on its Job screen.
async function openFile(it, title, parts) {
  const { page } = it;
  const chooser = page.waitForEvent("filechooser");
  await it.tap("Open a saved copy");
  await (await chooser).setFiles({ name: "job.countback", mimeType: "application/zip", buffer: jobFile({ title, parts }) });
  const list = page.getByRole("link", { name: new RegExp(`^${title}`) });
  const opened = page.getByRole("heading", { level: 1, name: title });
  await list.or(opened).first().waitFor();
  if (await list.count()) await press(list);
  await opened.waitFor();
}

test("a job of 500 parts: every screen opens and shows all of it", async (t) => {
  const { complaints, open, page } = await start(t, { viewport: SMALL_PHONE });
  await open();
  const it = hand(page);
  await openFile(it, "Five hundred", function* () {
    for (let n = 1; n <= 500; n += 1) yield { name: `part ${n}`, lies: `shelf ${n % 40}` };
  });
  assert.equal((await acts(page)).length, 1001);
  const times = {};
  for (const [screen, name] of [["Put back", "Can go back now"], ["Audit", "Still off"]]) {
    const begun = Date.now();
    await it.screen(screen);
    const head = page.getByRole("heading", { name: new RegExp(`^${name}`) });
    await head.waitFor();
    // What is folded is a tap away.
    const folded = head.getByRole("button", { expanded: false });
    if (await folded.count()) await press(folded);
    const rows = page.getByRole("list", { name, exact: true }).getByRole("listitem");
    await rows.first().waitFor();
    times[screen] = Date.now() - begun;
    assert.equal(await rows.count(), 500, screen);
  }
  const begun = Date.now();
  await it.screen("Find");
  await it.type("Words, a size, or a tag code", "part 377");
  await page.getByRole("link", { name: /^part 377/ }).waitFor();
  times.Find = Date.now() - begun;
  await press(page.getByRole("link", { name: /^part 377/ }).first());
  await it.title("part 377");
  const tapped = Date.now();
  await it.act("Place it", "Back: part 377");
  times.save = Date.now() - tapped;
  t.diagnostic(JSON.stringify(times));
  assert.deepEqual(complaints, []);
});

test("a decimal comma is read, and numbers are shown as the language writes them", async (t) => {
  const { open, page } = await start(t, { locale: "de-DE" });
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await it.tap("cover");
  await it.tap(/^M6 x 20\b/);
  await it.tap(/^Details ?:? M6 x 20\b/);
  await it.sheet(/^M6 x 20/);
  await it.tap("Add a figure");
  await it.type(/^Stage 1/, "22,5");
  await it.tap("Done");
  await it.noSheet();
  await keptDraft(page, "22,5");
  await it.act("Log it, off", "Off: cover");
  // Kept as a number, whatever it was written as.
  assert.match(JSON.stringify(await acts(page)), /22\.5|22500/);
  await toPart(it, "cover");
  await page.getByText("22,5 N·m").waitFor();
  await it.act("Place it", "Back: cover");
  await it.act("All 2 started by hand", "Started: 2 × M6 x 20");
  await it.act(/^All tight: 22,5/, "22,5");
});

test("what was just saved never covers the end of a page", async (t) => {
  const { open, page } = await start(t, { viewport: PHONE });
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await takeOff(it, "cover", { sizes: [/^M6 x 20\b/] });
  const covered = {};
  for (const screen of ["Job", "Put back", "Audit", "Find"]) {
    await it.screen(screen);
    covered[screen] = await page.evaluate(() => {
      scrollTo(0, document.scrollingElement.scrollHeight);
      const controls = [...document.querySelectorAll("main a[href], main button")].filter((it) => it.checkVisibility());
      return controls
        .filter((it) => {
          const { left, top, width, height } = it.getBoundingClientRect();
          const [x, y] = [left + width / 2, top + height / 2];
          if (y < 0 || y > innerHeight) return false;
          const above = document.elementFromPoint(x, y);
          return above && !it.contains(above) && !above.contains(it);
        })
        .map((it) => it.textContent.trim().slice(0, 40));
    });
  }
  assert.deepEqual(covered, { Job: [], "Put back": [], Audit: [], Find: [] });
});

test("on a wide window the list stays beside the chosen part", async (t) => {
  const wide = { width: 1280, height: 800 };
  const { complaints, open, page } = await start(t, { viewport: wide });
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await takeOff(it, "cover", { sizes: [/^M6 x 20\b/], container: "tray" });
  await takeOff(it, "bracket");
  assert.match(JSON.stringify(await acts(page)), /"kind":"tray"/);
  await it.screen("Put back");
  await page.getByText("Choose a part to see it here.").waitFor();
  await toPart(it, "bracket");
  const list = page.getByRole("list", { name: "Can go back now" });
  assert.equal(await list.getByRole("link", { name: /^bracket/ }).getAttribute("aria-current"), "true");
  await press(list.getByRole("link", { name: /^cover/ }));
  await it.title("cover");
  assert.equal(await list.locator("[aria-current]").count(), 1);
  const place = page.getByRole("button", { name: "Place it" });
  const [left, right] = [await list.boundingBox(), await place.boundingBox()];
  assert.ok(left.x + left.width <= right.x, "the list is not beside the part");
  await it.act("Place it", "Back: cover");
  assert.deepEqual(await axe(page), []);
  assert.deepEqual(await measured(page, wide.width), []);
  // The undo stands on the rail and nothing lies over it.
  await page.getByRole("button", { name: "Undo the last entry" }).tap({ trial: true, timeout: 5000 });
  // A part that was chosen in the audit stands beside the audit.
  await it.screen("Audit");
  await page.getByText("Choose a line to see its part here.").waitFor();
  const off = page.getByRole("list", { name: "Still off" });
  await press(off.getByRole("link", { name: /bracket/ }));
  await it.title("bracket");
  assert.equal(await off.locator("[aria-current]").count(), 1);
  assert.deepEqual(await axe(page), []);
  assert.deepEqual(await measured(page, wide.width), []);
  await toPart(it, "bracket");
  await page.setViewportSize(SMALL_PHONE);
  await list.waitFor({ state: "detached" });
  await it.title("bracket");
  assert.deepEqual(complaints, []);
});
