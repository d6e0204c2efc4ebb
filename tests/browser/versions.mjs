// A second version of the built site, for update tests: the page carries a
// mark, and the worker's list and build follow from it.
import { createHash } from "node:crypto";
import { cpSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { DIST, newFolder } from "./support.mjs";

const sha256 = (bytes) => createHash("sha256").update(bytes).digest("hex");

/// A copy of the site whose page says `mark`; answers its folder and build.
export function nextVersion(mark, from = DIST) {
  const folder = newFolder("version");
  cpSync(from, folder, { recursive: true });
  const page = join(folder, "index.html");
  const before = readFileSync(page);
  const after = Buffer.from(
    before.toString().replace("</head>", `<meta name="mark" content="${mark}">\n</head>`),
  );
  writeFileSync(page, after);
  const worker = join(folder, "sw.js");
  const script = readFileSync(worker, "utf8");
  const build = sha256(after).slice(0, 16);
  const edited = script
    .replace(sha256(before), sha256(after))
    .replace(/const BUILD = "[0-9a-f]+"/, `const BUILD = "${build}"`);
  if (edited === script) throw new Error("the worker does not list the page");
  writeFileSync(worker, edited);
  return { folder, build };
}

/// The mark of the page that is shown, or null for the first version.
export const markOf = (page) =>
  page.evaluate(() => document.querySelector('meta[name="mark"]')?.content ?? null);
