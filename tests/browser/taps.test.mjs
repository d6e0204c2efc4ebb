// A part with two kinds of fasteners, its bag and one photo: at most 8 taps
// and no typing. The taps that the phone's own camera asks for are counted too.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { acts, hand, newJob, press, soon, stored } from "./journey.mjs";
import { ROOT, start, test } from "./support.mjs";

// Orientation 6 and a GPS position; see SOURCE.md beside it.
const PHOTO = join(ROOT, "tests/fixtures/photos/phone_turned_with_position.jpg");
// Shutter, and the tick that hands the photo over (common practice, no source).
const TAPS_IN_THE_CAMERA = 2;

// Counts what reaches the page from outside it, whatever the hand believes.
const COUNT = () => {
  globalThis.reached = { taps: 0, keys: 0 };
  const count = (what) => (event) => event.isTrusted && (globalThis.reached[what] += 1);
  addEventListener("pointerdown", count("taps"), true);
  addEventListener("keydown", count("keys"), true);
  addEventListener("beforeinput", count("keys"), true);
};

test("a part with two kinds of fasteners, its bag and a photo takes at most 8 taps", async (t) => {
  const { context, open, page } = await start(t);
  await context.addInitScript(COUNT);
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await page.evaluate(() => Object.assign(globalThis.reached, { taps: 0, keys: 0 }));
  it.done.taps = 0;

  await it.tap("cover");
  await it.tap(/^M6 x 20\b/);
  await it.tap(/^M8 x 25\b/);
  await it.tap(/^One more: M6 x 20\b/);
  const chooser = page.waitForEvent("filechooser");
  await it.tap("Photo");
  await (await chooser).setFiles(PHOTO);
  await page.getByRole("link", { name: "Photo: cover" }).waitFor();
  const tag = await page.getByRole("button", { name: /^New bag/, pressed: true }).innerText();
  await it.act("Log it, off", "Off: cover");

  const reached = await page.evaluate(() => globalThis.reached);
  assert.deepEqual(reached, { taps: it.done.taps, keys: 0 });
  const taps = reached.taps + TAPS_IN_THE_CAMERA;
  t.diagnostic(`${taps} taps`);
  assert.ok(taps <= 8, `${taps} taps`);

  // The record says all of it, on the screen and on the disk.
  await it.screen("Job");
  await press(page.getByRole("list", { name: "Last entry" }).getByRole("link"));
  await it.title("Log");
  const log = (await it.lines("Entries, the latest first")).join("\n");
  const code = tag.replace(/\D/g, "");
  assert.match(code, /^\d{6}$/);
  for (const entry of [/^Off: cover/m, /Undone: 3 × M6 x 20 bolts.* of cover/, /Undone: 2 × M8 x 25 bolts.* of cover/, RegExp(`New bag ${code}`), /^Photo/m]) {
    assert.match(log, entry);
  }
  const written = JSON.stringify(await acts(page));
  assert.ok(written.includes("cover") && written.includes(code), written);

  // The photo stands on the part's page, upright.
  await it.screen("Put back");
  await it.go(/^cover/);
  await it.title("cover");
  const thumb = page.getByRole("link", { name: "Photo: cover" }).locator("img");
  await thumb.waitFor();
  const rows = Buffer.from(withoutCameraData([...readFileSync(PHOTO)])).toString("base64");
  const turns = await thumb.evaluate(turnsOf, rows);
  t.diagnostic(`mean difference from the original turned by 0, 90, 180, 270 degrees: ${turns.map((d) => d.toFixed(1))}`);
  // Orientation 6: the stored rows have to be turned clockwise by 90 degrees.
  assert.equal(turns.indexOf(Math.min(...turns)), 1);
  assert.ok(turns[1] * 3 < Math.min(turns[0], turns[2], turns[3]), turns.join());
  await it.go("Photo: cover");
  await soon(() => page.getByRole("img").first().isVisible(), "the photo itself does not open");
});

test("nothing that the camera wrote into a photo is kept", async (t) => {
  const { open, page } = await start(t);
  await open();
  const it = hand(page);
  await newJob(it);
  await it.screen("Take off");
  await it.tap("cover");
  const chooser = page.waitForEvent("filechooser");
  await it.tap("Album");
  await (await chooser).setFiles(PHOTO);
  await page.getByRole("link", { name: "Photo: cover" }).waitFor();
  await it.act("Log it, off", "Off: cover");

  const original = [...readFileSync(PHOTO)];
  assert.ok(segments(original).includes(0xe1), "the fixture has lost its EXIF");
  const { photos, thumbs } = await stored(page);
  assert.equal(photos.length, 1);
  assert.equal(thumbs.length, 1);
  for (const { bytes } of [...photos, ...thumbs]) {
    const kinds = segments([...bytes]);
    // JFIF and a colour profile are the encoder's own; no other APP segment, no comment.
    const others = kinds.filter((it) => (it > 0xe0 && it <= 0xef && it !== 0xe2) || it === 0xfe);
    assert.deepEqual(others, []);
    const text = Buffer.from(bytes).toString("latin1");
    for (const mark of ["Exif\0", "ns.adobe.com", "Apple", "iPhone"]) {
      assert.ok(!text.includes(mark), mark);
    }
  }
  assert.ok(photos[0].bytes.length > thumbs[0].bytes.length);
});

// The segments of a JPEG up to its picture data, each with its kind and where
// it begins and ends; the layout is that of ITU-T T.81, annex B (from memory).
function pieces(bytes) {
  assert.deepEqual(bytes.slice(0, 2), [0xff, 0xd8], "not a JPEG");
  const found = [];
  for (let from = 2; bytes[from] === 0xff; ) {
    const kind = bytes[from + 1];
    const to = from + 2 + bytes[from + 2] * 256 + bytes[from + 3];
    found.push({ kind, from, to });
    if (kind === 0xda) return found;
    from = to;
  }
  return assert.fail("the JPEG does not come to its picture data");
}

const segments = (bytes) => pieces(bytes).map((it) => it.kind);

// The picture as its rows lie in the file: without the segment that says how
// it has to be turned, a decoder leaves it as it is.
function withoutCameraData(bytes) {
  const cut = pieces(bytes).filter((it) => it.kind === 0xe1);
  return bytes.filter((_, at) => !cut.some((it) => at >= it.from && at < it.to));
}

// Runs in the page: how far a shown picture is from the original turned
// clockwise by 0, 90, 180 and 270 degrees, as mean difference of grey.
async function turnsOf(image, original) {
  const SIDE = 48;
  await image.decode();
  const grey = (source, turns) => {
    const canvas = new OffscreenCanvas(SIDE, SIDE);
    const context = canvas.getContext("2d");
    context.translate(SIDE / 2, SIDE / 2);
    context.rotate((turns * Math.PI) / 2);
    context.drawImage(source, -SIDE / 2, -SIDE / 2, SIDE, SIDE);
    const { data } = context.getImageData(0, 0, SIDE, SIDE);
    return Array.from({ length: SIDE * SIDE }, (_, n) => (data[4 * n] + data[4 * n + 1] + data[4 * n + 2]) / 3);
  };
  const bytes = Uint8Array.from(atob(original), (letter) => letter.charCodeAt(0));
  const options = { resizeWidth: SIDE, resizeHeight: SIDE, resizeQuality: "high" };
  const rows = await createImageBitmap(new Blob([bytes], { type: "image/jpeg" }), options);
  const shown = grey(await createImageBitmap(image, options), 0);
  return [0, 1, 2, 3].map((turns) => {
    const turned = grey(rows, turns);
    return shown.reduce((sum, value, n) => sum + Math.abs(value - turned[n]), 0) / shown.length;
  });
}
