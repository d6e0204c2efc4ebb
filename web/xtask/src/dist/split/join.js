
// The second file of this WASM. Until it is there, each of its functions that
// the first file refers to is a stand-in, named by its place in the table. One
// that is called early has the second file brought at once and goes on.

const standIns = new Proxy({}, {
  get: (_, place) => (...args) => {
    if (!joined) joinNow(place);
    return wasm._table.get(Number(place))(...args);
  },
});

// Set by `begin`: answers the compiled second file, without waiting, or throws.
let bring;
let joined = false;

function __wbg_get_imports() {
  return { ...pageImports(), later: standIns };
}

const laterImports = () => ({ ...pageImports(), first: wasm });

function joinNow(place) {
  performance.mark("later:now", { detail: place });
  new WebAssembly.Instance(bring(), laterImports());
  joined = true;
}

// Adds the second file, which keeps nothing of its own: adding it twice, where
// a stand-in was called meanwhile, changes nothing.
export async function join(second) {
  await WebAssembly.instantiate(second, laterImports());
  joined = true;
}

// Starts the first file; with the second, where that is given.
export async function begin(first, bringSecond, second) {
  bring = bringSecond;
  const instance = await WebAssembly.instantiate(first, __wbg_get_imports());
  wasm = instance.exports;
  if (second) await join(second);
  __wbg_finalize_init(instance, first);
}
