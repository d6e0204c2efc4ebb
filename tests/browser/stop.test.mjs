// After a fault of the app itself, seen from outside: a trap in WASM, which no
// code in it hears of. Nothing more is written, the person is told, and the
// next start says what happened.
import assert from "node:assert/strict";
import { looked } from "./looks.mjs";
import { SMALL_PHONE, screenshot, start, test } from "./support.mjs";

// (module (func (export "f") unreachable)), by the binary format's own rules.
const TRAP = [
  0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 7, 5, 1, 1, 102, 0, 0, 10, 5, 1, 3, 0,
  0, 11,
];

for (const way of ["an event", "a promise"]) {
  test(`a trap in ${way} stops the app`, async (t) => {
    const { open, page } = await start(t, { viewport: SMALL_PHONE, context: { serviceWorkers: "block" } });
    await open();
    await page.evaluate(
      async ([bytes, way]) => {
        const { instance } = await WebAssembly.instantiate(new Uint8Array(bytes));
        if (way === "an event") setTimeout(instance.exports.f);
        else Promise.resolve().then(instance.exports.f);
      },
      [TRAP, way],
    );
    const notice = page.getByRole("alertdialog");
    await notice.waitFor();
    assert.match(await notice.textContent(), /Nothing more is written/);
    assert.deepEqual(await looked(page), []);
    await screenshot(page, "stopped");
    assert.equal(await page.evaluate(() => globalThis.countback.stop.stopped), true);
    const note = await page.evaluate(() => JSON.parse(localStorage.getItem("countback.crash")));
    assert.match(note.place, /wasm/);
    assert.ok(note.message !== "" && note.at_ms > 0);

    await notice.getByRole("link").click();
    await page.getByText("The app stopped itself last time").first().waitFor();
    assert.equal(await page.evaluate(() => localStorage.getItem("countback.crash")), null);
  });
}

test("an error that is no trap stops nothing", async (t) => {
  const { open, page } = await start(t, { context: { serviceWorkers: "block" } });
  await open();
  await page.evaluate(() => {
    setTimeout(() => {
      throw new TypeError("a bookmarklet's own");
    });
  });
  await page.waitForTimeout(200);
  assert.equal(await page.evaluate(() => globalThis.countback.stop.stopped), false);
  assert.equal(await page.getByRole("alertdialog").count(), 0);
});
