// The kept start: the memory of a Python that has the engine loaded and has opened nothing, in Cache Storage by build.

import { BUILD_URL, SITE_URL } from "./build.js";

const CACHE = "steelyard-snapshot";
const KEY = new URL("python/snapshot", BUILD_URL).href;
const REFUSED = "X-Refused";

// A heap grown past the one Python starts with cannot be put back (seen with this Pyodide; it throws RangeError).
const LARGEST_HEAP_BYTES = 30 * 1024 * 1024;

/**
 * The kept memory, still to be read; null when there is none that may be used.
 * @returns {Promise<Response | null>}
 */
export async function findSnapshot() {
  const kept = await look();
  return kept && !kept.headers.has(REFUSED) ? kept : null;
}

/**
 * Whether it is worth taking one: storage is there, and nothing is kept or refused for this build yet.
 * @returns {Promise<boolean>}
 */
export async function wantsSnapshot() {
  return typeof caches !== "undefined" && !(await look());
}

/**
 * Keeps a memory, and forgets those of other builds of this site.
 * @param {Uint8Array} memory
 */
export async function keepSnapshot(memory) {
  if (memory.byteLength > LARGEST_HEAP_BYTES + 2 ** 20) {
    await refuseSnapshot("the heap has grown");
    throw new Error(`a heap of ${memory.byteLength} bytes cannot be put back`);
  }
  const cache = await caches.open(CACHE);
  for (const request of await cache.keys()) {
    if (request.url.startsWith(SITE_URL) && request.url !== KEY) await cache.delete(request);
  }
  await cache.put(KEY, new Response(/** @type {BlobPart} */ (memory), { headers: { "Content-Type": "application/octet-stream" } }));
}

/**
 * Remembers that this build's memory cannot be used here, so that it is not taken again at every visit.
 * @param {string} reason
 */
export async function refuseSnapshot(reason) {
  const cache = await caches.open(CACHE);
  await cache.put(KEY, new Response("", { headers: { [REFUSED]: reason } }));
}

/** @returns {Promise<Response | undefined>} */
async function look() {
  if (typeof caches === "undefined") return undefined; // only secure contexts have it
  try {
    return await (await caches.open(CACHE)).match(KEY);
  } catch {
    return undefined; // storage that is switched off throws; the plain way needs none
  }
}
