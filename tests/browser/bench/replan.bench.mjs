// Replanning a job of 1,000 parts and 5,000 constraints after one act, in the
// page: the planner alone as WASM, built as what is shipped is, called and
// timed in the app's own page under its own policy. Beside it all that the Put
// back screen works out after an act in such a job.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { ROOT, newProfile, openApp, openBrowser, startServer } from "../support.mjs";
import { bench, printRow } from "./measure.mjs";

const TARGET = "wasm32-unknown-unknown";
const folder = join(ROOT, "target/replan");
execFileSync(
  process.env.CARGO ?? "cargo",
  ["build", "--quiet", "--profile", "web", "--target", TARGET, "--package", "countback-replan", "--target-dir", folder],
  { cwd: ROOT, stdio: ["ignore", "ignore", "inherit"] },
);
const wasm = readFileSync(join(folder, TARGET, "web/countback_replan.wasm")).toString("base64");

const { t, finish } = bench();
const server = await startServer(t);
const context = await openBrowser(t, { profile: newProfile() });
const page = context.pages()[0];
await openApp(page, server.url);
const measured = await page.evaluate(async (text) => {
  const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const { instance } = await WebAssembly.instantiate(bytes);
  const { prepare, act, take_off, go_on, put_back } = instance.exports;
  const left = prepare(1000, 5000);
  if (left !== 500) throw new Error(`${left} parts are left of 1000`);
  const rounds = 201;
  const times = [[], [], []];
  for (let round = 0; round < rounds; round += 1) {
    for (const kind of [0, 1, 2]) {
      const start = performance.now();
      const now = act(kind);
      times[kind].push(performance.now() - start);
      if (now !== (kind === 0 ? 499 : 500)) throw new Error(`${now} parts are left after an act of kind ${kind}`);
    }
  }
  const median = (all) => all.sort((a, b) => a - b)[(all.length - 1) / 2];
  const off = take_off(1000, 5000);
  if (off !== 500) throw new Error(`${off} parts are off of 1000`);
  const screen = [];
  for (let round = 1; round <= 51; round += 1) {
    go_on();
    const start = performance.now();
    const now = put_back();
    screen.push(performance.now() - start);
    if (now !== 500 - round) throw new Error(`${now} parts are off after ${round} were put back`);
  }
  return { plan: Math.max(...times.map(median)), screen: median(screen) };
}, wasm);
await finish();

printRow({ name: "replan_1k_page_ms", value: measured.plan, floor: "the dearest of put back, taken back and a constraint learned; median of 201" });
printRow({ name: "put_back_1k_page_ms", value: measured.screen, floor: "the Put back screen's rows and words, after each of 51 parts put back; median" });
