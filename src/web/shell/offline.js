/**
 * The service worker. Every file of the build is put by at the first visit and answered from there; the API is never answered from
 * here. A new build is a new version: it is fetched whole while the old one goes on, and takes over when its reader says so, or when
 * no window of the old one is open any more.
 */
const files = 'FILES';
const name = `rigworthy-${'VERSION'}`;

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(name)
      .then((cache) => cache.addAll(['/', ...files.filter((file) => file !== 'index.html').map((file) => `/${file}`)])),
  );
});

self.addEventListener('message', (event) => {
  if (event.data === 'take-over') self.skipWaiting();
});

self.addEventListener('activate', (event) => {
  event.waitUntil(tidy().then(() => self.clients.claim()));
});

/** Old versions go, unless a window beside the one that asked for the new version still works with one. */
async function tidy() {
  const windows = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
  if (windows.length > 1) return;
  const names = await caches.keys();
  await Promise.all(names.filter((other) => other !== name).map((other) => caches.delete(other)));
}

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== location.origin || url.pathname.startsWith('/api/')) return;
  const key = event.request.mode === 'navigate' ? '/' : url.pathname;
  event.respondWith(answer(event.request, key));
});

/** From this version; else, a file with its hash in its name, from an older one that is still used; else from the server. */
async function answer(request, key) {
  const cache = await caches.open(name);
  return (await cache.match(key)) ?? (await caches.match(key)) ?? fetch(request);
}
