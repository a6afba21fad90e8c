// Keeps the page and its two files, so that it opens without a network. A newer page brings a worker with another name.
self.addEventListener("install", (e) => e.waitUntil(caches.open(kept).then((c) => c.addAll(files)).then(() => self.skipWaiting())));
self.addEventListener("activate", (e) => e.waitUntil(caches.keys()
  .then((all) => Promise.all(all.filter((k) => k.startsWith("tankside-") && k !== kept).map((k) => caches.delete(k))))
  .then(() => self.clients.claim())));
self.addEventListener("fetch", (e) => {
  if (e.request.method === "GET") e.respondWith(caches.open(kept).then((c) => c.match(e.request, { ignoreSearch: true })).then((was) => was || fetch(e.request)));
});
