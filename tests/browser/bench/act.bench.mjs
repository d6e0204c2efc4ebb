// Tap to saved in a job of 10,000 acts, against a bare strict put in the same
// page: one bolt after the other is started by hand, each one tap.
import { cpSync, rmSync } from "node:fs";
import { join } from "node:path";
import { openDemo } from "../app.mjs";
import { DIST, ROOT, newFolder, newProfile, openApp, openBrowser, startServer } from "../support.mjs";
import { actsAgainstPuts } from "./acts.mjs";
import { bench, printRow } from "./measure.mjs";

const TITLE = "Cover off";

// The site with the big job in place of the demo jobs. Its worker would find
// files that it does not know, so there is none here.
const site = newFolder("site");
cpSync(DIST, site, { recursive: true });
rmSync(join(site, "demo-jobs"), { recursive: true });
cpSync(join(ROOT, "target/bench-jobs"), join(site, "demo-jobs"), { recursive: true });

const { t, finish } = bench();
const server = await startServer(t, site);
const context = await openBrowser(t, { profile: newProfile(), context: { serviceWorkers: "block" }, timeout: 60_000 });
const page = context.pages()[0];
await openApp(page, server.url);
await openDemo(page, TITLE);
await page.getByRole("navigation", { name: "Screens" }).getByRole("link", { name: "Put back" }).click();
await page.getByRole("link", { name: /^Cover plate/ }).first().click();
const start = page.getByRole("button", { name: /^One started/ });
const { act_p95, put_p95, tap_p95, ratio, at_tap, count } = await actsAgainstPuts(page, () => start.click());
await finish();

printRow({
  name: "act_saved_ratio",
  value: ratio,
  floor: `bare strict put ${put_p95.toFixed(1)} ms, act ${act_p95.toFixed(1)} ms, p95 of ${count} each`,
});
printRow({
  name: "act_saved_tap_ratio",
  value: at_tap,
  floor: `bare strict put at a tap ${tap_p95.toFixed(1)} ms, act ${act_p95.toFixed(1)} ms, p95 of ${count} each`,
});
