// Starts the app: compiles the WASM while it arrives, and says in plain words
// when a start fails. It holds no rule of the app and touches no stored data.
// The build fills in __CONFIG__ with the names of this build's files.

const config = __CONFIG__;

// The page's policy lets no text become a script address but through here,
// and no text become markup at all. Only our own worker may be named.
if (globalThis.trustedTypes) {
  const allowed = new URL(config.worker, document.baseURI).href;
  trustedTypes.createPolicy("default", {
    createScriptURL(address) {
      if (new URL(address, document.baseURI).href === allowed) return address;
      throw new TypeError("Not a worker of this app: " + address);
    },
  });
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

const loads = new Map();

// Loads a part of the app once and answers its exports. A load that failed
// may be asked for again.
function load(name) {
  if (!loads.has(name)) {
    const part = config.parts[name];
    const start = async () => {
      if (!part) throw new Error("This build has no part named " + name);
      const module = compile(part.wasm);
      module.catch(() => {});
      const glue = await import(part.js);
      await glue.default({ module_or_path: await module });
      return glue;
    };
    loads.set(name, start().catch((error) => {
      loads.delete(name);
      throw error;
    }));
  }
  return loads.get(name);
}

// Whether the app met a fault of its own, and the words to say so, which the
// app fills in. Its stores look at `stopped` before every write.
const stop = { stopped: false, title: "", body: "", reload: "" };

globalThis.countback = Object.freeze({ build: config.build, worker: config.worker, load, stop });

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
  if (!stop.title || document.querySelector(".stop-notice")) return;
  const panel = document.createElement("div");
  panel.className = "stop-notice";
  panel.setAttribute("role", "alertdialog");
  const add = (tag, text) => {
    const element = document.createElement(tag);
    element.textContent = text;
    panel.append(element);
    return element;
  };
  add("h1", stop.title);
  add("p", stop.body);
  add("a", stop.reload).href = "";
  document.body.append(panel);
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
  add("a", "Try again").href = "./";
  add("p", "For whoever helps you: " + error);
  document.getElementById("app")?.replaceChildren(notice);
  console.error(error);
}

load("app").catch(explain);
