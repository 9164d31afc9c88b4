// Keeps one whole build of the site for use without a network. Nothing of a build is used before every file of it has
// been fetched and found to be what the build says; a new build waits until the reader asks for it.

/** @type {ServiceWorkerGlobalScope} */
const worker = /** @type {any} */ (self);

const BUILD = "__BUILD__";
const SCOPE = worker.registration.scope;
const CACHE_PREFIX = `steelyard-site ${SCOPE} `;
const MANIFEST = `v/${BUILD}/manifest.json`;
const PARALLEL = 6;

worker.addEventListener("install", (event) => event.waitUntil(keepWholeBuild()));
worker.addEventListener("activate", (event) => event.waitUntil(forgetUnusedBuilds()));
worker.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(SCOPE)) return;
  event.respondWith(answer(request));
});
worker.addEventListener("message", (event) => {
  if (event.data?.says === "activate") event.waitUntil(worker.skipWaiting());
});

async function keepWholeBuild() {
  const name = CACHE_PREFIX + BUILD;
  await caches.delete(name);
  const cache = await caches.open(name);
  try {
    const answer = await fetch(new URL(MANIFEST, SCOPE), { cache: "no-store" });
    if (!answer.ok) throw new Error(`${MANIFEST} answered ${answer.status}`);
    /** @type {{files: Record<string, Listed>, root: Record<string, Listed>}} */
    const manifest = await answer.clone().json();
    await cache.put(new URL(MANIFEST, SCOPE), answer);
    const files = [
      ...Object.entries(manifest.files).map(([path, entry]) => ({ ...entry, path: `v/${BUILD}/${path}` })),
      ...Object.entries(manifest.root).map(([path, entry]) => ({ ...entry, path })),
    ];
    await Promise.all(Array.from({ length: PARALLEL }, () => keepInTurn(cache, files)));
  } catch (error) {
    await caches.delete(name);
    await tellPages({ says: "not-kept", reason: String(/** @type {any} */ (error)?.message ?? error) });
    throw error;
  }
}

/** @typedef {{path: string, sha256: string, bytes: number}} Listed */

/**
 * @param {Cache} cache
 * @param {Listed[]} files
 */
async function keepInTurn(cache, files) {
  for (let file = files.pop(); file; file = files.pop()) await keepVerified(cache, file);
}

/**
 * @param {Cache} cache
 * @param {Listed} file
 */
async function keepVerified(cache, { path, sha256 }) {
  const url = new URL(path, SCOPE);
  // Files of one build never change, so the browser's own copy will do; the page at the root must be asked for.
  const answer = await fetch(url, { cache: path.startsWith("v/") ? "default" : "no-store" });
  if (!answer.ok) throw new Error(`${path} answered ${answer.status}`);
  const body = await answer.arrayBuffer();
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  const got = Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
  if (got !== sha256) throw new Error(`${path} is not the file this build was made with`);
  // The headers are kept as they were sent: the Content-Security-Policy and the type among them.
  await cache.put(url, new Response(body, { headers: answer.headers }));
}

/** @param {Request} request */
async function answer(request) {
  const url = new URL(request.url);
  const path = url.href.slice(SCOPE.length).split(/[?#]/)[0];
  const ofBuild = /^v\/([^/]+)\//.exec(path);
  const name = CACHE_PREFIX + (ofBuild ? ofBuild[1] : BUILD);
  const key = path === "" ? "index.html" : path;
  const kept = (await caches.has(name)) && (await (await caches.open(name)).match(new URL(key, SCOPE)));
  return kept || fetch(request);
}

/** Another open page may still run an earlier build: that build stays until no page uses it. */
async function forgetUnusedBuilds() {
  const pages = await worker.clients.matchAll({ type: "all", includeUncontrolled: true });
  /** @type {Set<string | null>} */
  const used = new Set([BUILD]);
  await Promise.all(
    pages.filter((client) => client.type === "window").map(async (client) => used.add(await buildOf(client))),
  );
  for (const name of await caches.keys()) {
    if (name.startsWith(CACHE_PREFIX) && !used.has(name.slice(CACHE_PREFIX.length))) await caches.delete(name);
  }
}

/**
 * Asks a page which build it runs. A page that does not say within a second is gone or frozen.
 * @param {Client} client
 * @returns {Promise<string | null>}
 */
function buildOf(client) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = (event) => resolve(event.data);
    setTimeout(() => resolve(null), 1000);
    client.postMessage({ says: "which-build" }, [port2]);
  });
}

/** @param {object} message */
async function tellPages(message) {
  for (const client of await worker.clients.matchAll({ includeUncontrolled: true })) client.postMessage(message);
}
