// What every browser test starts with: the built site on a server of its own,
// a phone-sized Chromium, and a watch on every request that leaves the origin.
import { spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { createInterface } from "node:readline";
import { after, test as nodeTest } from "node:test";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

export const ROOT = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
/// The site under test; another one can be named from outside.
export const DIST = resolve(ROOT, process.env.COUNTBACK_DIST ?? "target/dist");
const XTASK = process.env.COUNTBACK_XTASK ?? join(ROOT, "target/debug/countback-xtask");
const SCREENS = join(ROOT, "target/screens");

// The sizes a phone in the hand has; touch, no mouse.
export const PHONE = { width: 390, height: 844 };
export const SMALL_PHONE = { width: 360, height: 640 };

// The shell is Chromium without windows, and takes a third less of the machine;
// where it is not to be had, and for what it does not do, there is the whole one.
const WHOLE = "/usr/bin/chromium";
const SHELL = "/usr/bin/chromium-headless-shell";
const FAST = existsSync(SHELL) ? SHELL : WHOLE;

const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/// A test that ends by itself when something it waits for never comes; a busy machine is no fault of the app.
export function test(name, act, timeout = 150_000) {
  if (!closing) after(async () => (await shared)?.close());
  closing = true;
  nodeTest(name, { timeout }, act);
}

// One browser for the tests of a file; each has a context of its own in it.
let shared = null;
let closing = false;

// Every helper takes the test's own context `t` first and tidies up after it,
// so that a test that fails leaves no server or browser behind.

/// The server process. `say("fault status 500 app-")` and the like, see
/// `countback-xtask static`; `stop()` and `start()` keep the port.
export async function startServer(t, dir = DIST) {
  const child = spawn(XTASK, ["static", "--port", "0", "--dir", dir], {
    stdio: ["pipe", "pipe", "inherit"],
  });
  const waiting = [];
  createInterface({ input: child.stdout }).on("line", (line) => waiting.shift()?.resolve(line));
  const ended = new Promise((done) => child.once("exit", done));
  child.once("exit", (code) => {
    for (const wait of waiting) wait.reject(new Error(`the server ended with ${code}`));
  });
  const line = () => new Promise((resolve, reject) => waiting.push({ resolve, reject }));
  const say = async (command) => {
    const answer = line();
    child.stdin.write(command + "\n");
    const text = await answer;
    if (text.startsWith("error:")) throw new Error(`${command}: ${text}`);
    return text;
  };
  // Its input ends, so it ends.
  t.after(async () => {
    child.stdin.end();
    await ended;
  });
  const port = Number(await line());
  return {
    pid: child.pid,
    origin: `http://127.0.0.1:${port}`,
    url: `http://127.0.0.1:${port}/`,
    say,
    fault: (text) => say(`fault ${text}`),
    clearFaults: () => say("clear"),
    hits: async () => JSON.parse(await say("hits")),
    resetHits: () => say("reset"),
    serve: (folder) => say(`dir ${folder}`),
    stop: () => say("stop"),
    start: () => say("start"),
  };
}

// Folders that are gone at the end of the process.
const folders = [];
process.on("exit", () => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});
export function newFolder(kind) {
  const folder = mkdtempSync(join(tmpdir(), `countback-${kind}-`));
  folders.push(folder);
  return folder;
}

/// A folder for a browser's profile, to open the same browser again.
export const newProfile = () => newFolder("profile");

/// A browser of its own on a profile, whose data outlives it when opened again
/// on the same profile; without one, a context in the browser that the tests of
/// a file share: its data lie in memory and end with it, no other sees them.
/// Options: profile, viewport, dark, locale, timeout, context (any more of
/// Playwright's), whole (the browser with all that it has, not the shell; needs
/// a profile).
export async function openBrowser(t, options = {}) {
  const how = {
    viewport: options.viewport ?? PHONE,
    deviceScaleFactor: 2,
    hasTouch: true,
    isMobile: true,
    colorScheme: options.dark ? "dark" : "light",
    locale: options.locale ?? "en-GB",
    ...options.context,
  };
  const launch = (path) => ({ executablePath: path, headless: true, args: FLAGS });
  let context;
  if (options.profile) {
    const browser = launch(options.whole ? WHOLE : FAST);
    context = await chromium.launchPersistentContext(options.profile, { ...browser, ...how });
  } else {
    shared ??= chromium.launch(launch(FAST));
    context = await (await shared).newContext(how);
    await context.newPage();
  }
  t.after(() => context.close());
  context.setDefaultTimeout(options.timeout ?? 30_000);
  return context;
}

/// The one process that is the browser on this profile; those that it started
/// itself say what they are by a --type.
export function processOf(profile) {
  const mine = readdirSync("/proc").filter((id) => {
    try {
      const words = readFileSync(`/proc/${Number(id)}/cmdline`, "latin1").split("\0");
      return words.includes(`--user-data-dir=${profile}`) && !words.some((word) => word.startsWith("--type="));
    } catch {
      return false;
    }
  });
  if (mine.length !== 1) throw new Error(`processes on ${profile}: ${mine.join()}`);
  return Number(mine[0]);
}

/// Notes every request of the browser, workers included. `strays()` lists
/// those that left the origin; pages' own blob: and data: are not requests.
export function watchRequests(context, origin) {
  const all = [];
  context.on("request", (request) => all.push(request.url()));
  context.on("page", (page) => page.on("websocket", (socket) => all.push(socket.url())));
  return {
    all,
    strays: () =>
      all.filter((url) => !url.startsWith(origin + "/") && !/^(blob|data|about):/.test(url)),
  };
}

/// Notes what a page complains of: uncaught errors, console errors, refusals
/// by the content-security policy.
export function watchComplaints(page) {
  const complaints = [];
  page.on("pageerror", (error) => complaints.push(`uncaught: ${error.message}`));
  page.on("console", (message) => {
    if (message.type() === "error") complaints.push(`console: ${message.text()}`);
  });
  return complaints;
}

/// Goes to the app and waits until it says that it can be used.
export async function openApp(page, url) {
  await page.goto(url);
  await page.waitForSelector("body[data-ready]", { state: "attached" });
}

/// Server, browser, page, and the two watches. At the end of the test it
/// fails if any request left the origin.
/// Options: those of `openBrowser`, and `dir`, the folder to serve.
export async function start(t, options = {}) {
  const server = await startServer(t, options.dir);
  const context = await openBrowser(t, options);
  const requests = watchRequests(context, server.origin);
  t.after(() => {
    const strays = requests.strays();
    if (strays.length) throw new Error("requests left the origin: " + strays.join(", "));
  });
  const page = context.pages()[0];
  const complaints = watchComplaints(page);
  const open = (path = "") => openApp(page, server.url + path);
  return { server, context, page, requests, complaints, open };
}

/// Waits until the worker serves the page and holds every file.
export async function readyOffline(page) {
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    const report = await new Promise((resolve) => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = (event) => resolve(event.data);
      registration.active.postMessage({ kind: "verify" }, [port2]);
    });
    if (!report.ok) throw new Error("missing: " + report.missing.join(", "));
  });
}

/// A picture of the page in target/screens.
export async function screenshot(page, name) {
  mkdirSync(SCREENS, { recursive: true });
  await page.screenshot({ path: join(SCREENS, `${name}.png`) });
}
