// Sees to it that the page's files are kept for use without a network, and tells of a new version of them.

/** Tells the page that a new version of itself waits; it may not hear it yet. */
function tell() {
  window.whorlNewVersion = true;
  dispatchEvent(new Event('whorl-new-version'));
}

async function keepFiles() {
  const registration = await navigator.serviceWorker.register('./offline.js', { updateViaCache: 'none' });
  // A first visit has no version before it that could be running.
  const isNew = () => registration.waiting && navigator.serviceWorker.controller;
  if (isNew()) tell();
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', () => isNew() && tell());
  });
  addEventListener('whorl-change-version', () => {
    navigator.serviceWorker.addEventListener('controllerchange', () => location.reload());
    registration.waiting?.postMessage('change');
  });
}

// Some frames and private windows allow no such thing: the page is then as good as its connection.
keepFiles().catch(() => {});
