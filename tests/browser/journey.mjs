// The hand that walks through the app in the journeys: it finds everything by
// role and name, taps as a finger does, counts what it does, and waits for the
// app to say that an act was saved.
import assert from "node:assert/strict";

const escape = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

/// Taps what is found, brought to the middle of the screen first as a thumb
/// does; what lies under "Saved" at the end of a page is waited for.
export async function press(found) {
  await found.evaluate((element) => element.scrollIntoView({ block: "center" }));
  await found.tap({ timeout: 15_000 });
}

// A whole name; readers of the screen put a blank before what a button is about, with or without a colon.
const whole = (name) => (name instanceof RegExp ? name : new RegExp(`^${escape(name).replaceAll(":", " ?:?")}$`));

/// A hand on a page. Names given as text are whole names.
export function hand(page) {
  const done = { taps: 0, typed: 0 };
  // What is behind an open sheet cannot be reached, so it is not looked at.
  const scope = async () => {
    const sheets = page.getByRole("dialog");
    const n = await sheets.count();
    return n ? sheets.nth(n - 1) : page.getByRole("main").or(page.getByRole("navigation"));
  };
  const find = async (role, name) => (await scope()).getByRole(role, { name: whole(name) });
  const it = {
    page,
    done,
    /// Taps the one thing of this role and name.
    async tap(name, role = "button") {
      done.taps += 1;
      await press(await find(role, name));
    },
    go: (name) => it.tap(name, "link"),
    /// Types into the field with this label.
    async type(label, text) {
      done.typed += text.length;
      await (await scope()).getByLabel(label, { exact: typeof label === "string" }).fill(text);
    },
    /// Waits for the app's word that an act was saved, and does the next thing after it.
    async saved(what) {
      await page
        .getByRole("status")
        .filter({ hasText: new RegExp(`^Saved\\. .*${what instanceof RegExp ? what.source : escape(what)}`) })
        .waitFor({ state: "attached" });
    },
    /// Taps, and waits until that is saved.
    async act(name, said) {
      await it.tap(name);
      await it.saved(said);
    },
    /// Goes to a screen of the bar.
    async screen(name) {
      await page.getByRole("navigation", { name: "Screens" }).getByRole("link", { name, exact: true }).tap();
      if (name !== "Job") await it.title(name);
    },
    title: (name) => page.getByRole("heading", { level: 1, name, exact: typeof name === "string" }).waitFor(),
    /// What stands on a line of a list, for each line.
    async lines(list) {
      const items = page.getByRole("list", { name: list, exact: true }).getByRole("listitem");
      const texts = await items.allInnerTexts();
      if (!texts.length || texts.some((text) => text.trim())) return texts;
      // Rows of a long list have no words before they are drawn for the first time.
      await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
      return items.allInnerTexts();
    },
    async sheet(name) {
      await page.getByRole("dialog", { name, exact: typeof name === "string" }).waitFor();
    },
    async noSheet() {
      await page.getByRole("dialog").first().waitFor({ state: "detached" });
    },
  };
  return it;
}

/// Opens a job from the list of jobs, and comes out on its Job screen.
export async function newJob(it, { machine = "the van", title = "Water pump", by = "Ann" } = {}) {
  await it.go("New job");
  await it.type("Machine", machine);
  await it.type("What the job is", title);
  await it.type("Who is at work", by);
  await it.tap("Open the job");
  await it.title(title);
}

/// Reads every caution that stands before the next act.
export async function readCautions(it) {
  const dialog = it.page.getByRole("dialog");
  const where = (await dialog.count()) ? dialog : it.page.getByRole("main");
  const read = where.getByRole("button", { name: "Read, go on" });
  for (let left = await read.count(); left > 0; left = await read.count()) {
    await press(read.first());
    await soon(async () => (await read.count()) < left, "a caution that was read stays");
  }
}

/// Logs a part that is off. `what` may hold: sizes (names of chips, tapped once
/// for two), container (its kind), hose and gasket (the fields of their sheets), after (names of
/// parts), held (the caution that what hangs on it brings), finding (on it).
export async function takeOff(it, name, what = {}) {
  const main = it.page.getByRole("main");
  const chip = main.getByRole("group", { name: "Parts", exact: true }).getByRole("button", { name, exact: true });
  if (await chip.count()) {
    await press(chip);
  } else {
    await it.tap("Type it");
    await it.type("Name of the part", name);
  }
  const caution = main.getByRole("button", { name: "Read, go on" });
  const fasteners = main.getByRole("heading", { name: "Fasteners", exact: true });
  await caution.or(fasteners).first().waitFor();
  await readCautions(it);
  await fasteners.waitFor();
  for (const size of what.sizes ?? []) {
    await press(main.getByRole("group", { name: "Add a size", exact: true }).getByRole("button", { name: size }));
  }
  if (what.container) {
    const kinds = main.getByRole("group", { name: "It is a", exact: true });
    await press(kinds.getByRole("button", { name: what.container, exact: true }));
  }
  for (const first of what.after ?? []) {
    const row = main.getByRole("group", { name: "It could be reached", exact: true });
    const chip = row.getByRole("button", { name: first, exact: true });
    if (await chip.count()) {
      await press(chip);
      continue;
    }
    // Not among the likely ones: by its first letters, among all.
    await press(row.getByRole("button", { name: /^All \d+$/ }));
    await it.sheet("It could be reached");
    await it.type("Words of its name", first.slice(0, 4));
    await it.tap(first);
    await it.tap("Done");
    await it.noSheet();
    assert.equal(await chip.getAttribute("aria-pressed"), "true");
  }
  if (what.hose) {
    await it.tap("Hose or plug");
    await it.sheet("Hose or plug");
    for (const press of what.hose.press ?? []) await it.tap(press);
    for (const [label, text] of Object.entries(what.hose.fields ?? {})) await it.type(label, text);
    await it.tap("Add it");
    await it.noSheet();
  }
  if (what.gasket) {
    await it.tap("Gasket, seal");
    await it.sheet("Used once");
    await it.tap("Add it");
    await it.noSheet();
  }
  if (what.finding) {
    await it.tap("More about it");
    await it.sheet("More");
    await it.tap("Finding");
    await it.type("What you found", what.finding);
    await it.tap("Log it with the part");
    await it.noSheet();
  }
  if (what.held) {
    await main.getByRole("heading", { name: what.held }).waitFor();
    assert.equal(await main.getByRole("button", { name: /^Log it, off/ }).isDisabled(), true);
  }
  await readCautions(it);
  await it.act("Log it, off", `Off: ${name}`);
}

/// Presses every button of this name that a screen shows, one after the other.
export async function pressAll(it, name) {
  const buttons = it.page.getByRole("main").getByRole("button", { name });
  for (let left = await buttons.count(); left > 0; left = await buttons.count()) {
    await press(buttons.first());
    await soon(async () => (await buttons.count()) < left, `pressing ${name} changes nothing`);
  }
}

/// Confirms every make-safe step that stands open, each after its caution.
export async function confirmAll(it) {
  const buttons = it.page.getByRole("main").getByRole("button", { name: /^Confirm / });
  for (let left = await buttons.count(); left > 0; left = await buttons.count()) {
    await press(buttons.first());
    const held = it.page.getByRole("dialog");
    if (await held.count()) {
      await readCautions(it);
      await press(held.getByRole("button", { name: /^Confirm / }));
    }
    await soon(async () => (await buttons.count()) < left, "a step that was confirmed stays");
  }
}

/// Goes to a part's page from the Put back screen.
export async function toPart(it, name) {
  await it.screen("Put back");
  await it.go(new RegExp(`^${escape(name)}\\b`));
  await it.title(name);
}

/// Joins every end that a part's page shows as open, and makes it fast.
export async function joinEnds(it) {
  await pressAll(it, /^Pushed on|^Started by hand/);
  await pressAll(it, /^(Clicked|Clip tight|Fully on|Tight) /);
}

/// Puts a part back with everything its page offers, but for what `but` names:
/// "ends" are not joined.
export async function putBack(it, name, { but = [] } = {}) {
  await toPart(it, name);
  await readCautions(it);
  await pressAll(it, /^(New one|All .* new ones) fitted/);
  await it.act("Place it", `Back: ${name}`);
  await pressAll(it, /^All \d+ started by hand/);
  await pressAll(it, /^All tight/);
  if (!but.includes("ends")) {
    await joinEnds(it);
  }
}

/// What is in the app's database: every store, or those of `names`; bytes as a
/// Buffer. It crosses over as one text, since a browser's driver walks through
/// all else value by value.
export async function stored(page, names) {
  const text = await page.evaluate(async (names) => {
    const wait = (request) =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const base = await wait(indexedDB.open("countback"));
    const all = {};
    for (const name of names ?? base.objectStoreNames) {
      const rows = await wait(base.transaction(name).objectStore(name).getAll());
      all[name] = rows.map((row) => (row?.bytes ? { ...row, bytes: new Uint8Array(row.bytes).toBase64() } : row));
    }
    base.close();
    return JSON.stringify(all);
  }, names);
  return JSON.parse(text, (key, value) => (key === "bytes" && typeof value === "string" ? Buffer.from(value, "base64") : value));
}

/// The acts of all jobs as they were written, oldest first.
export async function acts(page) {
  const { acts } = await stored(page, ["acts"]);
  return acts.sort((a, b) => a.seq - b.seq).map((row) => JSON.parse(row.line));
}

/// Waits until the entry being made is on the disk with this in it.
export const keptDraft = (page, text) =>
  soon(async () => (await stored(page, ["drafts"])).drafts.some((row) => row.text.includes(text)), `no draft with ${text} is kept`);

/// Looks again and again until it holds, as the app's own work takes a moment.
export async function soon(look, why, ms = 5000) {
  const end = Date.now() + ms;
  for (;;) {
    const found = await look();
    if (found) return found;
    if (Date.now() > end) assert.fail(why);
    await new Promise((done) => setTimeout(done, 50));
  }
}
