// Start to usable with the demo job open, against a bare Yew page that was
// built and is served the same way, both from their service worker, both with
// the processor throttled four times, in turns. The app opens where it was
// left: on the demo job.
import { join } from "node:path";
import { openDemo } from "../app.mjs";
import { DIST, ROOT, newProfile, openBrowser, readyOffline, startServer } from "../support.mjs";
import { bench, median, printRow } from "./measure.mjs";

const RUNS = Number(process.env.COUNTBACK_BENCH_RUNS ?? 11);
const SLOWER = 4;
const DEMO = "Cooling pump and front cover";

// Notes when the page says that it can be used, in ms from navigation start.
const WATCH = () => {
  const look = () => {
    if (globalThis.readyAt === undefined && document.body?.hasAttribute("data-ready")) {
      globalThis.readyAt = performance.now();
    }
  };
  new MutationObserver(look).observe(document, { subtree: true, childList: true, attributes: true });
};

// What counts as usable must be the demo job, not the list of jobs.
const isOpen = (page) =>
  page.getByRole("heading", { level: 1, name: DEMO }).waitFor({ timeout: 2000 });

async function prepare(t, dir, first, there) {
  const server = await startServer(t, dir);
  const context = await openBrowser(t, { profile: newProfile() });
  await context.addInitScript(WATCH);
  const page = context.pages()[0];
  await page.goto(server.url);
  await page.waitForSelector("body[data-ready]", { state: "attached" });
  await first?.(page);
  await page.evaluate(() =>
    navigator.serviceWorker.register("./sw.js", { updateViaCache: "none" }).then(() => {}),
  );
  await readyOffline(page);
  const session = await context.newCDPSession(page);
  const slowed = (rate) => session.send("Emulation.setCPUThrottlingRate", { rate });
  return async () => {
    await page.goto("about:blank");
    // Slowed for its own start only: what slows a page down takes processor
    // time itself, and would take it from the other page's start.
    await slowed(SLOWER);
    await page.goto(server.url);
    await page.waitForFunction(() => globalThis.readyAt !== undefined);
    const controlled = await page.evaluate(() => Boolean(navigator.serviceWorker.controller));
    if (!controlled) throw new Error("the page was not served by its worker");
    await there?.(page);
    await slowed(1);
    const at = await page.evaluate(() => globalThis.readyAt);
    // What goes on after a start must not run beside the next one.
    await page.waitForTimeout(1500);
    return at;
  };
}

const { t, finish } = bench();
const pages = {
  hello: await prepare(t, join(ROOT, "target/hello-dist")),
  app: await prepare(t, DIST, (page) => openDemo(page, DEMO), isOpen),
};
const times = { app: [], hello: [] };
// The first run of each fills the code cache and is not counted.
for (let run = 0; run <= RUNS; run += 1) {
  const order = run % 2 ? ["app", "hello"] : ["hello", "app"];
  for (const name of order) {
    const time = await pages[name]();
    if (run > 0) times[name].push(time);
  }
}
await finish();

printRow({
  name: "start_ratio_4x",
  value: median(times.app) / median(times.hello),
  floor: `bare Yew page ${median(times.hello).toFixed(0)} ms, app ${median(times.app).toFixed(0)} ms, medians of ${RUNS}`,
});
