// A state to begin from without the taps that lead to it: acts written as a
// file and opened by the way that a saved copy goes.
import { jobFile } from "./jobfile.mjs";

export const M6 = "bolt | thread=M6 x 1 | length=20 | head=hex 10 mm";

/// What the acts of a file are made with: parts off with n bolts on the bench,
/// put back, started, made final.
export function acting(say) {
  const it = {
    say,
    off(name, n, { lies, detail, after, spec, also, ...fixing } = {}) {
      const part = say("part-off", { name, ...(lies && { lies }), ...(after && { after }) });
      if (!n) return { part, places: [] };
      const undone = {
        parts: [part, ...(also ?? [])],
        spec: spec ?? M6,
        n,
        reuse: "reuse",
        went: [`${n} bench`],
        ...(detail && { detail }),
        ...fixing,
      };
      return { part, fixing: say("fixing-undone", undone), places: Array.from({ length: n }, (_, at) => at) };
    },
    place: ({ part }) => say("part-placed", { part }),
    start: ({ fixing, places }) => say("started", { fixing, places, line: fixing, from: "bench" }),
    tight: ({ fixing, places }) => say("tightened", { fixing, places, to: "final" }),
    back(it_) {
      it.place(it_);
      it.start(it_);
      it.tight(it_);
    },
  };
  return it;
}

/// Gives the list of jobs a file to open.
export async function openSaved(it, buffer) {
  const chooser = it.page.waitForEvent("filechooser");
  await it.tap("Open a saved copy");
  await (await chooser).setFiles({ name: "job.countback", mimeType: "application/zip", buffer });
}

// Two jobs whose first acts had one id would be one job.
let n = 0;

/// Opens a job that `tell(say, acting)` has told, and waits for its page.
export async function openFile(it, title, tell) {
  const parts = function* (say) {
    tell(say, acting(say));
  };
  const opened = Date.UTC(2026, 3, 11, 8 + (n += 1));
  await openSaved(it, jobFile({ title, parts, opened }));
  await it.title(title);
}

// By its address, as back leads where one was before.
export async function toJobs(it) {
  await it.page.evaluate(() => (location.hash = "#/"));
  await it.title("Jobs");
}
