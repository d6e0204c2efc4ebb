// What the page benches share: medians and percentiles, and a row on standard
// output for `cargo xtask bench`.

export const sorted = (values) => [...values].sort((a, b) => a - b);

export function quantile(values, q) {
  const all = sorted(values);
  return all[Math.min(all.length - 1, Math.ceil(q * all.length) - 1)];
}

export const median = (values) => quantile(values, 0.5);

export function printRow(row) {
  console.log(JSON.stringify(row));
}

/// Stands in for a test's context: tidies up when `finish` is called.
export function bench() {
  const acts = [];
  return {
    t: { after: (act) => acts.push(act) },
    finish: async () => {
      for (const act of acts) await act();
    },
  };
}
