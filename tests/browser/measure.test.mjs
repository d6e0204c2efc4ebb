// The measuring itself, on the bare page: a save that is one strict put must
// come out near one, and one that waits must come out slower.
import assert from "node:assert/strict";
import { actsAgainstPuts } from "./bench/acts.mjs";
import { median, quantile } from "./bench/measure.mjs";
import { strictPuts } from "./bench/strict_put.mjs";
import { newProfile, start, test } from "./support.mjs";

test("medians and percentiles", () => {
  assert.equal(median([3, 1, 2]), 2);
  assert.equal(quantile([...Array(100).keys()], 0.95), 94);
});

test("a save as slow as a put is told from one that waits 40 ms", async (t) => {
  const { page, server } = await start(t, { profile: newProfile() });
  await page.goto(server.url);
  const save = (wait) => async () => {
    await page.evaluate(() => performance.mark("act:tap"));
    await page.evaluate(strictPuts, 1);
    await page.evaluate(async (wait) => {
      await new Promise((done) => setTimeout(done, wait));
      performance.measure("act:saved", "act:tap");
    }, wait);
  };
  const slow = await actsAgainstPuts(page, save(40), 10);
  assert.ok(slow.act_p95 > 40, JSON.stringify(slow));
  assert.ok(slow.put_p95 < 40, JSON.stringify(slow));
  await assert.rejects(
    actsAgainstPuts(page, () => page.evaluate(() => {
      performance.clearMarks();
      performance.mark("act:saved");
    }), 1),
    /no measure/,
  );
});
