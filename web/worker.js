// Starts the program of the second thread. What stands behind the “?” says which page it belongs to, so that the
// browser's store never gives it a program of another age.
const version = self.location.search;
importScripts(`whorl-worker.js${version}`);
wasm_bindgen({ module_or_path: `whorl-worker_bg.wasm${version}` }).catch((problem) => {
  // The page hears of errors, not of promises.
  setTimeout(() => {
    throw problem;
  });
});
