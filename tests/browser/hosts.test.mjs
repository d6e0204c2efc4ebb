// Hosts that serve the files rightly and say the wrong things with them: no
// headers at all, or a policy of their own. The app starts, or the page says
// that it did not; nothing that is saved is touched either way.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join, normalize } from "node:path";
import { hand, newJob } from "./journey.mjs";
import { looked } from "./looks.mjs";
import { DIST, SMALL_PHONE, openApp, openBrowser, readyOffline, test, watchComplaints } from "./support.mjs";

const TYPES = { ".html": "text/html", ".js": "text/javascript", ".wasm": "application/wasm", ".css": "text/css", ".json": "application/json", ".webmanifest": "application/manifest+json", ".svg": "image/svg+xml", ".png": "image/png" };

// A host that sends these headers with every file.
async function host(t, headers = () => ({})) {
  const server = createServer(async (request, answer) => {
    const path = normalize(new URL(request.url, "http://host").pathname);
    const file = join(DIST, path === "/" ? "index.html" : path);
    const bytes = await readFile(file).catch(() => undefined);
    answer.writeHead(bytes ? 200 : 404, { "content-type": TYPES[extname(file)] ?? "text/plain", ...headers(file) });
    answer.end(bytes);
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  t.after(() => {
    server.closeAllConnections();
    server.close();
  });
  return `http://127.0.0.1:${server.address().port}/`;
}

// Policies that a host may send, and what the page then does.
const STARTS = {
  "img-src 'none'": true,
  "worker-src 'none'": false,
  "require-trusted-types-for 'script'; trusted-types 'none'": false,
};
const NOT_STARTED = ["script-src 'self'", "connect-src 'none'"];
const WRONG_TYPE = "scripts as plain text";
// The script that would say so does not come to run.
const SILENT = { "script-src 'none'": "late", "default-src 'none'": "at once", [WRONG_TYPE]: "late" };

test("a host without headers is good enough, and one with a policy of its own is told of", async (t) => {
  const url = await host(t);
  const context = await openBrowser(t, { viewport: SMALL_PHONE, context: { reducedMotion: "reduce" } });
  const page = context.pages()[0];
  const complaints = watchComplaints(page);
  await openApp(page, url);
  await newJob(hand(page));
  await readyOffline(page);
  assert.deepEqual(complaints, []);

  const forbids = (policy) => host(t, () => ({ "content-security-policy": policy }));
  for (const [policy, offline] of Object.entries(STARTS)) {
    const other = await forbids(policy);
    await openApp(page, other);
    await newJob(hand(page));
    await openApp(page, other + "#/settings");
    const words = { true: "the app works with no network", false: "Not yet. Leave the app open" }[offline];
    await page.getByRole("main").getByText(words).waitFor();
  }
  for (const policy of NOT_STARTED) {
    const other = await forbids(policy);
    await page.goto(other);
    const notice = page.getByRole("alert");
    await notice.waitFor();
    assert.match(await notice.innerText(), /did not start[^]*has not been touched/);
    assert.deepEqual(await looked(page), [], policy);
  }
  for (const [policy, when] of Object.entries(SILENT)) {
    const other = await (policy === WRONG_TYPE ? host(t, (file) => (file.endsWith(".js") ? { "content-type": "text/plain" } : {})) : forbids(policy));
    await page.goto(other);
    const late = page.getByText("If this stays");
    // Not a word of it in a start that goes well.
    assert.equal(await late.isVisible(), when === "at once", policy);
    await page.evaluate(() => document.getAnimations().forEach((it) => it.finish()));
    await late.waitFor();
    if (when === "late") assert.deepEqual(await looked(page), [], policy);
  }
});
