// Taken in by the service worker before its own listeners: what is not of this place is answered with nothing.
addEventListener('fetch', (event) => {
  if (new URL(event.request.url).origin !== location.origin) event.respondWith(Response.error());
});
