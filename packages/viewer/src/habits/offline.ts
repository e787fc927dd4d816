/**
 * Has the browser keep the built bench, so that it opens again without its server. Only where there is a server and a
 * build: not from a disk, not while developing, and not under test unless asked for with `?offline`. A browser that
 * refuses goes on as before.
 */
export function keepForOffline(query: URLSearchParams): void {
  const isServed = /^https?:$/.test(window.location.protocol);
  if (!isServed || import.meta.env.MODE === 'development' || (query.has('test') && !query.has('offline'))) return;
  navigator.serviceWorker?.register('./service-worker.js').catch(() => undefined);
}
