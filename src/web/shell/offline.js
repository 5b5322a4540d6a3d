/**
 * The service worker. Every file of the build is put by at the first visit and answered from there; the API is never answered from
 * here. A new build is a new version: it is fetched whole before the old one is dropped, and takes over at the next visit.
 */
const files = 'FILES';
const name = `rigworthy-${'VERSION'}`;

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(name)
      .then((cache) => cache.addAll(['/', ...files.filter((file) => file !== 'index.html').map((file) => `/${file}`)]))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((other) => other !== name).map((other) => caches.delete(other))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== location.origin || url.pathname.startsWith('/api/')) return;
  const key = event.request.mode === 'navigate' ? '/' : url.pathname;
  event.respondWith(
    caches
      .open(name)
      .then((cache) => cache.match(key))
      .then((kept) => kept ?? fetch(event.request)),
  );
});
