// What axe-core finds on a screen, and what is measured on it, for every test
// that looks at one.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { ROOT, SMALL_PHONE } from "./support.mjs";

const AXE = readFileSync(join(ROOT, "tests/browser/node_modules/axe-core/axe.min.js"), "utf8");

/// What is serious or critical on the page, or on the sheet that is open over
/// it, in both themes; contrast at 7:1, as the house asks for, which is axe's
/// rule for level AAA. In the dark theme only the colours are other ones.
export async function axe(page) {
  if (await page.evaluate(() => !globalThis.axe)) await page.evaluate(AXE);
  return page.evaluate(async () => {
    const root = document.documentElement;
    const sheet = [...document.querySelectorAll("dialog[open]")].at(-1);
    const before = root.dataset.theme;
    const run = async (theme, rules) => {
      root.dataset.theme = theme;
      const found = await globalThis.axe.run(sheet ?? document, { resultTypes: ["violations"], ...rules });
      return found.violations
        .filter((it) => it.impact === "serious" || it.impact === "critical")
        .flatMap((it) => it.nodes.map((node) => `axe, ${theme}, ${it.id}: ${node.html.slice(0, 120)} ${node.any[0]?.message ?? ""}`));
    };
    const dark = await run("dark", { runOnly: { type: "rule", values: ["color-contrast", "color-contrast-enhanced"] } });
    const light = await run("light", {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
      // Sizes are measured by the tests, at more than axe asks for; it also
      // takes what is scrolled half under the bar for a small target.
      rules: { "color-contrast-enhanced": { enabled: true }, "target-size": { enabled: false } },
    });
    if (before) root.dataset.theme = before;
    else delete root.dataset.theme;
    return [...light, ...dark];
  });
}

// A glove's fingertip; WCAG 2.2 asks for 24 px, at level AAA for 44 px.
const SMALLEST = 48;
// The main act of a screen, and what is tapped most on it.
const MAIN = 56;
const MAIN_ACTS = /^(New job|Open the job|Log it|Take off|Audit|Place it|Back to the list|Sign off|Add it|Done|Job|Put back|Find|One (less|more): |Place \d)/;
const BOUNDS = { width: SMALL_PHONE.width, smallest: SMALLEST, main: MAIN, mainActs: MAIN_ACTS.source };

// Runs in the page: what is too small, too wide, or lies across the edge.
function measure({ width: screenWidth, smallest, main, mainActs }) {
  const faults = [];
  const top = [...document.querySelectorAll("dialog[open]")].at(-1) ?? document;
  const acts = new RegExp(mainActs);
  for (const control of top.querySelectorAll("button, a[href], input, textarea, select")) {
    const { width, height } = control.getBoundingClientRect();
    if (!control.checkVisibility() || width === 0) continue;
    const name = (control.getAttribute("aria-label") ?? control.textContent ?? control.id).trim().replace(/\s+/g, " ");
    const size = `${name.slice(0, 40)} is ${Math.round(width)} x ${Math.round(height)}`;
    if (Math.min(width, height) < smallest - 0.5) faults.push(`small: ${size}`);
    else if (acts.test(name) && Math.min(width, height) < main - 0.5 && !(control.tagName === "INPUT")) faults.push(`main, small: ${size}`);
  }
  // A sheet stands whole in the window, with its foot, and enough of its body to work in.
  if (top !== document) {
    const body = top.querySelector(".sheet__body");
    const foot = top.querySelector(".sheet__foot");
    for (const part of [top, foot]) {
      const box = part?.getBoundingClientRect();
      if (box && (box.bottom > innerHeight + 1 || box.top < 0)) faults.push(`${part.className} is not all in the window`);
      if (part === foot && part && part.scrollHeight > part.clientHeight + 1) faults.push("the foot of the sheet scrolls");
    }
    if (body && body.clientHeight < Math.min(2 * smallest, body.scrollHeight - 1)) faults.push(`the body of the sheet is ${body.clientHeight} high`);
  }
  const page = document.scrollingElement;
  // A page that is too wide makes the window wider on a phone, so the screen is what counts.
  if (page.scrollWidth > screenWidth) faults.push(`the page is ${page.scrollWidth} wide, the screen ${screenWidth}`);
  for (const element of top.querySelectorAll("*")) {
    const { left, right, width } = element.getBoundingClientRect();
    if (!width || !element.checkVisibility() || element.closest(".unseen, svg")) continue;
    if (right > screenWidth + 1 || left < -1) faults.push(`across the edge: ${element.className} ${element.textContent.trim().slice(0, 40)}`);
    const style = getComputedStyle(element);
    const hides = style.overflowX === "hidden" || style.overflowX === "clip";
    if (!hides && element.scrollWidth > element.clientWidth + 1 && element.clientWidth > 0 && style.display !== "inline" && element.children.length === 0) {
      faults.push(`runs out of its box: ${element.className} ${element.textContent.trim().slice(0, 40)}`);
    }
  }
  return [...new Set(faults)];
}

/// What is too small for a glove or too wide for the screen, a small phone's
/// where no width is given.
export const measured = (page, width = SMALL_PHONE.width) => page.evaluate(measure, { ...BOUNDS, width });

/// Both: what is measured, and what axe finds.
export const looked = async (page) => [...(await measured(page)), ...(await axe(page))];
