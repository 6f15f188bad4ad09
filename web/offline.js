// Keeps the page's files in the browser, so that it works without a network after the first visit.
//
// The build puts in the version, which is a hash of all files, and their names. A version is a cache of its own: it is
// there whole or not at all. A new one waits until the page asks for it or all its tabs are closed, so nothing
// changes under a lab that is open.

const VERSION = 'VERSION';
const FILES = ['FILES'];

// Several pages may share one origin: caches are named after this one's folder.
const PREFIX = `whorl ${new URL('./', self.location).pathname} `;
const CACHE = PREFIX + VERSION;
const START = new URL('./', self.location).href;

self.addEventListener('install', (event) => event.waitUntil(fill()));

async function fill() {
  const cache = await caches.open(CACHE);
  await Promise.all(FILES.map(async (file) => {
    // A name with a hash in it always means the same bytes; others are asked for anew.
    const hashed = /-[0-9a-f]{16}[._]/.test(file);
    const address = addressOf(file);
    if (hashed && (await cache.match(address))) return;
    const response = await fetch(address, { cache: hashed ? 'default' : 'reload' });
    if (!response.ok) throw new Error(`${file}: ${response.status}`);
    await cache.put(address, response);
  }));
}

/** Hosts may send who asks for index.html on to the folder, and a page that was sent on is not taken. */
function addressOf(file) {
  return new URL(file === 'index.html' ? './' : file, START).href;
}

self.addEventListener('activate', (event) => event.waitUntil(tidy().then(() => self.clients.claim())));

/** A tab may still run the version before, and ask for parts of it: that one stays, too. */
async function tidy() {
  const own = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(own.slice(0, -1).map((name) => caches.delete(name)));
}

self.addEventListener('message', (event) => {
  if (event.data === 'change') self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || !request.url.startsWith(START)) return;
  event.respondWith(answer(request));
});

async function answer(request) {
  const cache = await caches.open(CACHE);
  if (request.mode === 'navigate') {
    const page = await cache.match(START);
    const address = new URL(request.url);
    // Other pages in this folder are not ours.
    if (page && (address.pathname.endsWith('/') || address.pathname.endsWith('/index.html'))) return page;
  }
  // What stands behind a “?” tells a page's version; the files of its own cache are that version's.
  const kept = (await cache.match(request, { ignoreSearch: true })) ?? (await caches.match(request, { ignoreSearch: true }));
  return kept ?? fetch(request);
}
