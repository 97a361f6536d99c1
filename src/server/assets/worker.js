// Keeps the crew's page for the hours without signal, and sends trials that wait when the phone gets
// it back. The page asks it to keep what it has loaded; what the server answers always comes first.
importScripts("/assets/crew-outbox.js");

const KEPT = "fairseam-crew-1";
const PATIENCE_MS = 4_000;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => {
  const old = async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("fairseam-crew-") && name !== KEPT) await caches.delete(name);
    }
    await self.clients.claim();
  };
  event.waitUntil(old());
});

const isPage = (url) => /^\/crew\/[^/]+\/$/.test(url.pathname);
const isPart = (url) =>
  url.pathname.startsWith("/assets/") || url.pathname === "/crew/manifest.webmanifest";

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.search === "" && (isPage(url) || isPart(url))) event.respondWith(answer(event, url));
  else if (event.request.mode === "navigate" && url.pathname === "/crew/") {
    event.respondWith(start(event.request));
  }
});

// The server's answer, or, where that takes too long or there is none, the kept one.
async function answer(event, url) {
  const kept = await caches.match(url.pathname);
  const asked = fetch(event.request).then(async (fresh) => {
    await keep(url, fresh.clone());
    return fresh;
  });
  if (kept === undefined) return asked;
  event.waitUntil(asked.catch(() => undefined));
  const tooLong = new Promise((resolve) => setTimeout(resolve, PATIENCE_MS, kept));
  // A server that is being restarted is no reason to show less than is known.
  const settled = asked.then((fresh) => (fresh.status >= 500 ? kept : fresh));
  return Promise.race([settled.catch(() => kept), tooLong]);
}

// The installed page starts here; without signal it goes on to the page that was kept.
async function start(request) {
  try {
    return await fetch(request);
  } catch (fault) {
    const pages = (await (await caches.open(KEPT)).keys()).map((one) => new URL(one.url));
    const last = pages.filter(isPage).pop();
    if (last === undefined) throw fault;
    return Response.redirect(last.pathname);
  }
}

// Only what the server has really meant for this address: no fault, no way to the door.
async function keep(url, fresh) {
  if (!fresh.ok || fresh.redirected || fresh.type !== "basic") return;
  const cache = await caches.open(KEPT);
  // What is put in again stands last, so that the last page is the newest.
  await cache.put(url.pathname, isPage(url) ? await marked(fresh) : fresh);
}

// A kept page says that it is one: the time of day in it is long past.
async function marked(fresh) {
  const text = (await fresh.text()).replace("<body>", '<body data-from="phone">');
  return new Response(text, { headers: { "content-type": "text/html; charset=utf-8", ...policy(fresh) } });
}

// The page may run no more out of the phone's store than it may from the server.
function policy(fresh) {
  const name = "content-security-policy";
  const value = fresh.headers.get(name);
  return value === null ? {} : { [name]: value };
}

// What the page has loaded before there was a worker.
self.addEventListener("message", (event) => {
  if (!Array.isArray(event.data?.keep)) return;
  const all = event.data.keep.map(async (path) => {
    const url = new URL(path, self.location.origin);
    if (url.origin !== self.location.origin || !(isPage(url) || isPart(url))) return;
    await keep(url, await fetch(url.pathname, { credentials: "same-origin" }));
  });
  event.waitUntil(
    Promise.all(all).then(
      () => event.source?.postMessage({ kept: true }),
      () => undefined,
    ),
  );
});

self.addEventListener("sync", (event) => {
  if (event.tag === "fairseam-send") event.waitUntil(sendAndTell());
});

async function sendAndTell() {
  const waits = await self.fairseam.outbox.sendAll();
  for (const page of await self.clients.matchAll()) page.postMessage({ sent: true });
  // The phone tries again by itself after a fault.
  if (waits === "no-signal" || waits === "server") throw new Error(waits);
}
