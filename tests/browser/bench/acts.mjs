// Tap to saved, against a bare strict put in the same page, in turns. The app
// sets the mark `act:tap` when a tap arrives and the measure `act:saved`, from
// that mark on, when its commit is complete.
import { quantile } from "./measure.mjs";
import { putAtTap, strictPuts } from "./strict_put.mjs";

/// Does `act(page)` `count` times, each one tap that saves one act, and as
/// many bare puts between them, by themselves and at a tap; answers all three
/// times' 95th percentiles in ms and their ratios. Fails when an act leaves no
/// marks.
export async function actsAgainstPuts(page, act, count = 100) {
  const acts = [];
  const puts = [];
  const taps = [];
  await page.evaluate(putAtTap);
  const bare = page.locator("#bare-put");
  const tapped = async () => {
    const had = await page.evaluate(() => globalThis.tapPuts.length);
    await bare.click();
    await page.waitForFunction((n) => globalThis.tapPuts.length > n, had, { polling: 5 });
    return page.evaluate(() => globalThis.tapPuts.at(-1));
  };
  await tapped();
  // One of each first, so that neither pays for what is made only once.
  await act(page);
  await lastSave(page);
  await page.evaluate(strictPuts, 5);
  for (let turn = 0; turn < count; turn += 1) {
    await page.evaluate(() => {
      performance.clearMarks();
      performance.clearMeasures();
    });
    await act(page);
    acts.push(await lastSave(page));
    puts.push(...(await page.evaluate(strictPuts, 1)));
    taps.push(await tapped());
  }
  const act_p95 = quantile(acts, 0.95);
  const put_p95 = quantile(puts, 0.95);
  const tap_p95 = quantile(taps, 0.95);
  return { act_p95, put_p95, tap_p95, ratio: act_p95 / put_p95, at_tap: act_p95 / tap_p95, count };
}

// Waits for the measure and answers its length in ms.
async function lastSave(page) {
  await page.waitForFunction(() => performance.getEntriesByName("act:saved").length > 0, null, {
    polling: 5,
  });
  return page.evaluate(() => {
    const saved = performance.getEntriesByName("act:saved", "measure").at(-1);
    if (!saved) throw new Error("act:saved is no measure from act:tap");
    return saved.duration;
  });
}
