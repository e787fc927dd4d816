// Keeps the built bench in this browser, so that it opens without its server once it has been open. The two values are
// filled in by the build; the version changes with any file.
const VERSION = 'VERSION_OF_BUILD';
const FILES = ['FILES_OF_BUILD'];
const PREFIX = 'barwright/';
const CACHE = PREFIX + VERSION;

self.addEventListener('install', (event) => {
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(FILES)));
});

// It takes over only when no page of the version before is open, so that such a page still finds its own late parts.
self.addEventListener('activate', (event) => {
  const clear = async () => {
    const names = await caches.keys();
    await Promise.all(
      names.filter((name) => name.startsWith(PREFIX) && name !== CACHE).map((name) => caches.delete(name)),
    );
    await self.clients.claim();
  };
  event.waitUntil(clear());
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || !request.url.startsWith(self.registration.scope)) return;
  const path = new URL(request.url).pathname.slice(new URL(self.registration.scope).pathname.length);
  if (request.mode === 'navigate' && (path === '' || path === 'index.html')) event.respondWith(newestPage(request));
  else if (FILES.includes(`./${path}`)) event.respondWith(keptOrFetched(request));
});

/** The page as its server has it now; without the server, as it was kept. */
async function newestPage(request) {
  try {
    return await fetch(request);
  } catch (fault) {
    const kept = await (await caches.open(CACHE)).match('./index.html');
    if (kept !== undefined) return kept;
    throw fault;
  }
}

/** Files with a hash in their name never change; those without are asked for anew with each version. */
async function keptOrFetched(request) {
  const kept = await (await caches.open(CACHE)).match(request, { ignoreSearch: true });
  return kept ?? fetch(request);
}
