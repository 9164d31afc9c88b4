// Asks the browser to keep the whole site for use without a network, and says how that stands.

import { BUILD, SITE_URL } from "./build.js";

/** @typedef {"off" | "working" | "kept" | "update-ready" | "failed"} OfflineState */

const LOOPBACK = ["127.0.0.1", "localhost", "[::1]"];
const ASK = "offline";

/**
 * Call once the page is ready. On this machine's own address nothing is kept unless the address says `?offline=1` or
 * it was asked for before, so that a developer always sees the newest files.
 * @param {{onState: (state: OfflineState, reason: string) => void}} options `reason` is empty unless it failed or is off
 * @returns {Promise<{useUpdate: () => void}>} `useUpdate` takes the waiting build and loads the page again
 */
export async function keepOffline({ onState: show }) {
  /** @type {OfflineState | null} */
  let shown = null;
  /** @param {OfflineState} state @param {string} reason */
  const onState = (state, reason) => {
    if (state !== shown) show(state, reason);
    shown = state;
  };
  /** @type {ServiceWorker | null} */
  let waiting = null;
  const useUpdate = () => {
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
    waiting?.postMessage({ says: "activate" });
  };
  if (!("serviceWorker" in navigator) || !isSecureContext) {
    onState("off", "This browser keeps pages for offline use only when they come over HTTPS.");
    return { useUpdate };
  }
  navigator.serviceWorker.addEventListener("message", (event) => {
    if (event.data?.says === "which-build") event.ports[0].postMessage(BUILD);
    else if (event.data?.says === "not-kept") onState("failed", event.data.reason);
  });
  navigator.serviceWorker.startMessages();
  try {
    if (!(await isAsked())) {
      onState("off", "Not kept on this machine's own address unless asked for with ?offline=1.");
      return { useUpdate };
    }
    onState("working", "");
    const registration = await navigator.serviceWorker.register(new URL("sw.js", SITE_URL), { scope: SITE_URL });
    const look = () => {
      waiting = registration.waiting;
      if (registration.installing) watch(registration.installing);
      else if (registration.waiting && registration.active) onState("update-ready", "");
      else if (registration.active) onState("kept", "");
    };
    /** @param {ServiceWorker} installing */
    const watch = (installing) => {
      onState("working", "");
      // A worker whose installation failed says why itself, in a message.
      installing.addEventListener("statechange", () => installing.state !== "redundant" && look());
    };
    registration.addEventListener("updatefound", look);
    look();
  } catch (error) {
    onState("failed", String(/** @type {any} */ (error)?.message ?? error));
  }
  return { useUpdate };
}

async function isAsked() {
  if (!LOOPBACK.includes(location.hostname)) return true;
  if (new URLSearchParams(location.search).get(ASK) === "1") return true;
  return (await navigator.serviceWorker.getRegistration(SITE_URL)) !== undefined;
}
