// Opens the page without a signal. The server writes SHELL above this: {version, page, files}.
// What is about a person is not kept here, but for the pages that the page itself put by for
// reading; those go when somebody else signs in or the athlete signs out.
/* global SHELL */

const KEPT = `saltus-pocket-shell-${SHELL.version}`;
const PERSONAL = "saltus-pocket-pages"; // the same name stands in leaving.js

async function install() {
  const kept = await caches.open(KEPT);
  for (const path of [SHELL.page, ...SHELL.files]) {
    const answer = await fetch(path, { cache: "reload", credentials: "same-origin" });
    // Signed out, the page is another one: keep what is there, and try again another time.
    if (!answer.ok || answer.redirected) throw new Error(`cannot keep ${path}`);
    await kept.put(path, answer);
  }
  await self.skipWaiting();
}

async function tidy() {
  for (const name of await caches.keys()) {
    if (name.startsWith("saltus-pocket-shell-") && name !== KEPT) await caches.delete(name);
  }
  await self.clients.claim();
}

async function fromShell(request) {
  const kept = await caches.open(KEPT);
  return (await kept.match(request, { ignoreSearch: true })) ?? fetch(request);
}

// Pages to be read: as they are now, and without a signal as they were.
async function pageToRead(request) {
  try {
    return await fetch(request);
  } catch (error) {
    const kept = await caches.open(PERSONAL);
    const found = await kept.match(request, { ignoreSearch: true });
    if (found) return found;
    throw error;
  }
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(tidy()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin) return;
  if (pathname === SHELL.page || SHELL.files.includes(pathname)) event.respondWith(fromShell(pathname === SHELL.page ? SHELL.page : request));
  else if (request.mode === "navigate") event.respondWith(pageToRead(request));
});
