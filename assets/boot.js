// Starts the app: compiles the WASM while it arrives, and says in plain words
// when a start fails. It holds no rule of the app and touches no stored data.
// The build fills in __CONFIG__ with the names of this build's files.

const config = __CONFIG__;

// The page's policy lets no text become a script address but through here,
// and no text become markup at all. Only our own worker may be named.
if (globalThis.trustedTypes) {
  const allowed = new URL(config.worker, document.baseURI).href;
  try {
    trustedTypes.createPolicy("default", {
      createScriptURL(address) {
        if (new URL(address, document.baseURI).href === allowed) return address;
        throw new TypeError("Not a worker of this app: " + address);
      },
    });
  } catch (error) {
    // A host with a policy of its own forbids ours: no worker can be named, so
    // the app needs a network, which it says.
    console.error(error);
  }
}

// Streams where the host names the type rightly; any other host costs only time.
async function compile(address) {
  const answer = await fetch(address, { credentials: "same-origin" });
  if (!answer.ok) throw new Error(address + " answered " + answer.status);
  const type = answer.headers.get("content-type") ?? "";
  if (WebAssembly.compileStreaming && type.startsWith("application/wasm")) {
    return WebAssembly.compileStreaming(answer);
  }
  return WebAssembly.compile(await answer.arrayBuffer());
}

// What a start reads first is asked for while the WASM is still on its way.
// With each move the app puts down what that would be; it takes the answer if
// it has the same question when it comes, and else reads by itself. `leave`
// closes what nobody takes.
const FIRST = "countback.first";
function readFirst() {
  let question = null;
  try {
    question = localStorage.getItem(FIRST);
  } catch {
    // Without a shelf the app reads by itself.
  }
  if (question === null) return undefined;
  let db;
  let left = false;
  const leave = () => {
    left = true;
    db?.close();
  };
  const answer = new Promise((tell) => {
    const nothing = () => {
      leave();
      tell(undefined);
    };
    const { base, version, all, rows, keys } = JSON.parse(question);
    const opening = indexedDB.open(base, version);
    // To lay out a new database is the app's.
    opening.onupgradeneeded = () => opening.transaction.abort();
    opening.onerror = nothing;
    opening.onsuccess = () => {
      db = opening.result;
      db.onversionchange = leave;
      if (left) return nothing();
      try {
        const tx = db.transaction(rows ? [all, keys.store, rows.store] : [all, keys.store]);
        const every = tx.objectStore(all).getAll();
        const ones = keys.of.map((key) => tx.objectStore(keys.store).get(key));
        // Arrays sort after texts, so an empty one closes the range.
        const range = rows && IDBKeyRange.bound([rows.of], [rows.of, []]);
        const acts = rows && tx.objectStore(rows.store).getAll(range);
        tx.onabort = nothing;
        tx.oncomplete = () => {
          if (left) return nothing();
          const column = (name) => acts.result.map((row) => row?.[name]).join("\n");
          tell({
            db,
            every: every.result,
            count: acts ? acts.result.length : 0,
            columns: acts ? rows.columns.map(column) : [],
            ones: ones.map((one) => one.result),
          });
        };
      } catch {
        nothing();
      }
    };
  });
  return { question, answer: answer.catch(() => undefined), leave, isLeft: () => left };
}

const loads = new Map();

// Loads a part of the app once and answers its exports. A load that failed
// may be asked for again.
function load(name) {
  if (!loads.has(name)) {
    const part = config.parts[name];
    const start = async () => {
      if (!part) throw new Error("This build has no part named " + name);
      const module = compile(part.wasm);
      const second = part.later && wantsBoth() ? compile(part.later) : undefined;
      module.catch(() => {});
      second?.catch(() => {});
      const glue = await import(part.js);
      if (!part.later) {
        await glue.default({ module_or_path: await module });
        return glue;
      }
      if (glue.LATER !== part.later) throw new Error("Files of two builds");
      await glue.begin(await module, () => later.now(part.later), await second);
      if (second) later.joined();
      else later.whenReady(part.later, glue.join);
      return glue;
    };
    loads.set(name, start().catch((error) => {
      loads.delete(name);
      throw error;
    }));
  }
  return loads.get(name);
}

// The second file of the app's WASM: what the first screen does without. It
// comes when that screen stands. What is called before it is there waits for
// it on the spot; should it not come, the call is broken off in the middle, so
// that nothing may be saved any more.
const later = {
  module: undefined,
  joined: () => {},

  whenReady(address, join) {
    const act = async (wait = 2000) => {
      try {
        later.module ??= await compile(address);
        await join(later.module);
        performance.mark("later:joined");
        later.joined();
      } catch {
        // No network for the moment; a tap that needs it asks by itself.
        setTimeout(act, wait, Math.min(2 * wait, 60000));
      }
    };
    const ready = () => document.body.hasAttribute("data-ready");
    if (ready()) return act();
    const watch = new MutationObserver(() => {
      if (!ready()) return;
      watch.disconnect();
      act();
    });
    watch.observe(document.body, { attributes: true });
  },

  now(address) {
    try {
      later.module ??= new WebAssembly.Module(fetchNow(address));
      return later.module;
    } catch (error) {
      keepWantingBoth();
      stopWith({
        title: "A part of the app is missing",
        body: "It could not be fetched, so the app has stopped. Nothing more is written. Everything that was shown as saved is on this phone.",
        reload: "Try again",
      });
      throw error;
    }
  },
};

// Resolves when all of the app is there.
const whole = config.parts.app.later
  ? new Promise((resolve) => { later.joined = resolve; })
  : undefined;

// Fetches while the page waits, since a call of WASM cannot: bytes come as
// text in which each letter is one of them.
function fetchNow(address) {
  const request = new XMLHttpRequest();
  request.open("GET", address, false);
  request.overrideMimeType("text/plain; charset=x-user-defined");
  request.send();
  if (request.status !== 200) throw new Error(address + " answered " + request.status);
  return Uint8Array.from(request.responseText, (letter) => letter.charCodeAt(0) & 0xff);
}

// Whether the start is to have both files before it begins: the app says so
// where it will open on a screen of the second.
const BOTH = "countback.both";
function wantsBoth() {
  try {
    return localStorage.getItem(BOTH) !== null;
  } catch {
    return false;
  }
}
function keepWantingBoth() {
  try {
    localStorage.setItem(BOTH, "1");
  } catch {
    // The next start then asks again when it needs it.
  }
}

// Whether the app met a fault of its own, and the words to say so, which the
// app fills in. Its stores look at `stopped` before every write.
const stop = { stopped: false, title: "", body: "", reload: "" };

globalThis.countback = Object.freeze({ build: config.build, worker: config.worker, load, stop, whole, first: readFirst() });

// A trap (or a stack that ran over) leaves the WASM's state half changed:
// nothing that it computes afterwards may be saved. What was acknowledged is
// on disk and comes back with a reload. No Rust is entered for any of this.
function isTrap(error) {
  return (
    error instanceof WebAssembly.RuntimeError ||
    (error instanceof RangeError && String(error.stack).includes("wasm"))
  );
}

function stopAfter(error) {
  if (!isTrap(error) || stop.stopped) return;
  stop.stopped = true;
  // The app's own note, where there is one, says more than a stack does.
  const key = "countback.crash";
  try {
    const frames = String(error.stack).split("\n").slice(1, 9).map((line) => line.trim());
    const note = { message: String(error.message), place: frames.join(" "), at_ms: Date.now() };
    if (localStorage.getItem(key) === null) localStorage.setItem(key, JSON.stringify(note));
  } catch {
    // Without a shelf only the note is lost.
  }
  stopWith(stop);
}

// Stops all writing and says why.
function stopWith(words) {
  stop.stopped = true;
  if (!words.title || document.querySelector(".stop-notice")) return;
  // Above a sheet that may stand open, and not to be put away.
  const panel = document.createElement("dialog");
  panel.className = "stop-notice";
  panel.setAttribute("role", "alertdialog");
  panel.setAttribute("aria-label", words.title);
  panel.setAttribute("closedby", "none");
  panel.addEventListener("cancel", (event) => event.preventDefault());
  const add = (tag, text) => {
    const element = document.createElement(tag);
    element.textContent = text;
    panel.append(element);
    return element;
  };
  add("h1", words.title);
  add("p", words.body);
  const again = add("a", words.reload);
  again.className = "button button--main";
  again.href = "";
  document.body.append(panel);
  panel.showModal();
}

addEventListener("error", (event) => stopAfter(event.error));
addEventListener("unhandledrejection", (event) => stopAfter(event.reason));

function explain(error) {
  const notice = document.createElement("div");
  notice.className = "start";
  notice.setAttribute("role", "alert");
  const add = (tag, text) => {
    const element = document.createElement(tag);
    element.textContent = text;
    notice.append(element);
    return element;
  };
  add("h1", "Countback did not start");
  add("p", "What you have saved on this phone has not been touched.");
  const again = add("a", "Try again");
  again.className = "button button--main";
  again.href = "./";
  add("p", "For whoever helps you: " + error);
  document.getElementById("app")?.replaceChildren(notice);
  console.error(error);
}

load("app").catch(explain);
