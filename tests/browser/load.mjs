// The load check of what ships: every WASM file compiles in Chromium, the app
// starts without a complaint, asks for nothing beyond what the page names and
// the list of demo jobs until it can be used, and every file that is named is
// there. What a start asks for is left in target/first-load.json, for the
// scales; the second file of the WASM, which is asked for when the first screen
// stands, is not in it.
import assert from "node:assert/strict";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { DIST, ROOT, start, test } from "./support.mjs";

const page = readFileSync(join(DIST, "index.html"), "utf8");
const linked = [...page.matchAll(/["']\.\/([^"']+)["']/g)].map((match) => match[1]);

test("every file that is named is there", async (t) => {
  const manifest = JSON.parse(readFileSync(join(DIST, "manifest.webmanifest"), "utf8"));
  const icons = manifest.icons.map((icon) => icon.src.replace(/^\.\//, ""));
  assert.ok(linked.length >= 5 && icons.length >= 3);
  const { server, page } = await start(t, { context: { serviceWorkers: "block" } });
  for (const name of [...linked, ...icons]) {
    const answer = await page.request.get(server.url + name);
    assert.equal(answer.status(), 200, name);
  }
});

test("every WASM file compiles", async (t) => {
  const names = readdirSync(DIST).filter((name) => name.endsWith(".wasm"));
  assert.ok(names.length >= 1);
  const { page, server } = await start(t, { context: { serviceWorkers: "block" } });
  await page.goto(server.url);
  for (const name of names) {
    const imports = await page.evaluate(async (name) => {
      const module = await WebAssembly.compileStreaming(fetch(name));
      return WebAssembly.Module.imports(module).length;
    }, name);
    assert.ok(imports > 0, name);
  }
});

test("the app starts, and asks only for what the page names", async (t) => {
  const { complaints, open, page, requests, server } = await start(t, {
    context: { serviceWorkers: "block" },
  });
  await page.addInitScript(() => {
    const look = () => {
      if (!document.body?.hasAttribute("data-ready")) return;
      watch.disconnect();
      performance.mark("ready");
    };
    const watch = new MutationObserver(look);
    watch.observe(document, { subtree: true, childList: true, attributes: true });
  });
  await open();
  await page.waitForFunction(() => performance.getEntriesByName("later:joined").length > 0);
  await page.waitForTimeout(500);
  assert.deepEqual(complaints, []);
  const second = await page.evaluate(() => {
    const [ready] = performance.getEntriesByName("ready");
    const [file] = performance.getEntriesByType("resource").filter((it) => it.name.endsWith("_later.wasm"));
    return { after: file.startTime - ready.startTime, early: performance.getEntriesByName("later:now").length };
  });
  assert.ok(second.after >= 0, "the second file was asked for before the first screen stood");
  assert.equal(second.early, 0, "the start called what is in the second file");
  const asked = requests.all
    .filter((url) => url.startsWith(server.url))
    .map((url) => url.slice(server.url.length).split(/[?#]/)[0])
    .filter((name) => !name.endsWith("_later.wasm"));
  const extra = asked.filter(
    (name) => name !== "" && !linked.includes(name) && !name.startsWith("demo-jobs/"),
  );
  assert.deepEqual(extra, [], "a first load fetches more than the page names");
  writeFileSync(join(ROOT, "target/first-load.json"), JSON.stringify([...new Set(asked)]));
});
