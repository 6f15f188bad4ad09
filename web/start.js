// Starts the page's program, then sees to it that the page works without a network.
import init from './whorl-app.js';

init({ module_or_path: './whorl-app_bg.wasm' });

/** Tells the page that a new version of itself waits; it may not hear it yet. */
function tell() {
  window.whorlNewVersion = true;
  dispatchEvent(new Event('whorl-new-version'));
}

async function keepForOffline() {
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

// After everything that a first look needs. Some frames and private windows allow no such thing: the page is then as
// good as its connection.
addEventListener('load', () => {
  try {
    setTimeout(() => keepForOffline().catch(() => {}), 1000);
  } catch {
    // As said.
  }
});
