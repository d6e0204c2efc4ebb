// The floor of every save: one small record put into IndexedDB in a
// transaction of its own with strict durability, until `complete`.

/// Runs in the page; answers the times in ms of `count` puts.
export async function strictPuts(count) {
  const open = indexedDB.open("countback-bench-floor", 1);
  open.onupgradeneeded = () => open.result.createObjectStore("rows");
  const base = await new Promise((resolve, reject) => {
    open.onsuccess = () => resolve(open.result);
    open.onerror = () => reject(open.error);
  });
  const row = { text: "x".repeat(400) };
  const times = [];
  for (let key = 0; key < count; key += 1) {
    const begun = performance.now();
    const transaction = base.transaction("rows", "readwrite", { durability: "strict" });
    if (transaction.durability !== "strict") throw new Error("no strict transaction");
    transaction.objectStore("rows").put(row, begun + key);
    await new Promise((resolve, reject) => {
      transaction.oncomplete = resolve;
      transaction.onabort = () => reject(transaction.error);
    });
    times.push(performance.now() - begun);
  }
  base.close();
  return times;
}

/// Runs in the page; a bare button in its corner makes one such put at each
/// tap and notes its time. A browser may hold back all that follows a tap until
/// the next frame is drawn: this floor has that in it, the one above has not.
export async function putAtTap() {
  const open = indexedDB.open("countback-bench-floor", 1);
  open.onupgradeneeded = () => open.result.createObjectStore("rows");
  const base = await new Promise((resolve, reject) => {
    open.onsuccess = () => resolve(open.result);
    open.onerror = () => reject(open.error);
  });
  const row = { text: "x".repeat(400) };
  globalThis.tapPuts = [];
  document.getElementById("bare-put")?.remove();
  const button = document.createElement("button");
  button.id = "bare-put";
  button.textContent = "put";
  button.style.position = "fixed";
  button.style.inset = "0 auto auto 0";
  button.style.zIndex = "9999";
  button.addEventListener("click", () => {
    const begun = performance.now();
    const transaction = base.transaction("rows", "readwrite", { durability: "strict" });
    transaction.objectStore("rows").put(row, begun);
    transaction.oncomplete = () => globalThis.tapPuts.push(performance.now() - begun);
  });
  document.body.append(button);
}
