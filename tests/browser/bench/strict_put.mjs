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
