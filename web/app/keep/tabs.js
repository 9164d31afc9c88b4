// One window at a time changes a sketch. Web Locks say which; where they are missing (a plain http host), windows
// answer each other over a BroadcastChannel. Without either, storage still refuses to overwrite another's work.

/** How long to wait for another window to write down its last changes before the sketch is taken from it. */
const HANDOVER_MS = 3000;
/** How long windows have to say "mine" where there are no locks. */
const ROLL_CALL_MS = 250;

/**
 * @typedef {object} Tabs
 * @property {(id: string) => Promise<boolean>} claim  true when this window may change the sketch
 * @property {(id: string) => Promise<void>} takeOver  the other window writes its changes down, then it is ours
 * @property {(id: string) => void} release
 * @property {(id: string) => boolean} holds
 * @property {(id: string, signal: AbortSignal) => Promise<boolean>} whenFree  true once the other window let go and
 *   this one may change the sketch; false when the signal ended the waiting
 */

/**
 * @param {object} options
 * @param {string} options.me  name of this window
 * @param {(id: string) => Promise<void>} options.onAsked  another window takes the sketch: write everything down
 * @param {(id: string) => void} options.onLost  the sketch is no longer this window's to change
 * @param {LockManager | undefined} [options.locks]
 * @param {number} [options.handover_ms]
 * @returns {Tabs}
 */
export function createTabs({ me, onAsked, onLost, locks = navigator.locks, handover_ms = HANDOVER_MS }) {
  /** @type {Map<string, () => void>} */
  const held = new Map();
  /** Those of the held ones that the browser holds for us. @type {Set<string>} */
  const locked = new Set();
  /** What ends the waiting for another window that asked for one. @type {Map<string, ReturnType<typeof setTimeout>>} */
  const giving = new Map();
  const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("steelyard-sketches");
  /** @type {Set<(message: any) => void>} */
  const listeners = new Set();
  const lockName = (/** @type {string} */ id) => `steelyard-sketch-${id}`;

  channel?.addEventListener("message", async ({ data: message }) => {
    for (const listener of listeners) listener(message);
    if (!held.has(message.id) || message.from === me) return;
    if (message.say === "whose") channel.postMessage({ say: "mine", id: message.id, from: me });
    if (message.say === "give") {
      await onAsked(message.id).catch(() => {});
      channel.postMessage({ say: "yours", id: message.id, from: me, to: message.from });
      // A lock is kept until the other window takes it, so that no third one comes between.
      if (locked.has(message.id)) giving.set(message.id, setTimeout(giveUp, handover_ms, message.id));
      else giveUp(message.id);
    }
  });

  /** @param {string} id */
  function giveUp(id) {
    if (!held.has(id)) return;
    letGo(id);
    onLost(id);
  }

  /** @param {string} id */
  function letGo(id) {
    held.get(id)?.();
    forget(id);
  }

  /** It is not held any more; if it ever is again, that has nothing to do with what was asked before. @param {string} id */
  function forget(id) {
    held.delete(id);
    locked.delete(id);
    clearTimeout(giving.get(id));
    giving.delete(id);
  }

  /**
   * Holds the lock until `letGo`.
   * @param {string} id
   * @param {LockOptions} options
   * @returns {Promise<boolean>} whether it was granted
   */
  function hold(id, options) {
    return new Promise((resolve, reject) => {
      const holding = /** @type {LockManager} */ (locks).request(lockName(id), options, (lock) => {
        if (lock !== null) locked.add(id);
        resolve(lock !== null);
        return lock === null ? undefined : new Promise((release) => held.set(id, () => release(undefined)));
      });
      holding.catch((problem) => {
        if (held.has(id)) {
          // Taken: this window was asked for it, or did not answer in time.
          forget(id);
          onLost(id);
        } else reject(problem);
      });
    });
  }

  /**
   * Waits for a message about a sketch, for a while.
   * @param {string} say
   * @param {string} id
   * @param {number} patience_ms
   * @returns {Promise<boolean>}
   */
  function hear(say, id, patience_ms) {
    return new Promise((resolve) => {
      /** @param {boolean} heard */
      const done = (heard) => {
        listeners.delete(listener);
        clearTimeout(timer);
        resolve(heard);
      };
      const listener = (/** @type {any} */ message) => {
        if (message.say === say && message.id === id && (!message.to || message.to === me)) done(true);
      };
      const timer = setTimeout(done, patience_ms, false);
      listeners.add(listener);
    });
  }

  /** @param {string} id */
  async function claimByVoice(id) {
    if (channel) {
      channel.postMessage({ say: "whose", id, from: me });
      if (await hear("mine", id, ROLL_CALL_MS)) return false;
    }
    held.set(id, () => channel?.postMessage({ say: "free", id, from: me }));
    return true;
  }

  /** @type {Tabs} */
  const tabs = {
    async claim(id) {
      if (held.has(id)) return true;
      if (!locks) return claimByVoice(id);
      try {
        return await hold(id, { ifAvailable: true });
      } catch {
        return claimByVoice(id); // locks are there but refused, as in a sandboxed frame
      }
    },

    async takeOver(id) {
      if (held.has(id)) return;
      if (channel) {
        const handed = hear("yours", id, handover_ms);
        channel.postMessage({ say: "give", id, from: me });
        await handed;
      }
      if (locks) await hold(id, { steal: true });
      else held.set(id, () => channel?.postMessage({ say: "free", id, from: me }));
    },

    release: letGo,

    holds: (id) => held.has(id),

    async whenFree(id, signal) {
      try {
        if (locks) return await hold(id, { signal });
        while (!signal.aborted) {
          if ((await hear("free", id, 60_000)) && !signal.aborted) return claimByVoice(id);
        }
        return false;
      } catch {
        return false;
      }
    },
  };
  // Where there are no locks a closing window says so; with locks the browser does it.
  if (!locks) addEventListener("pagehide", () => [...held.keys()].forEach(letGo));
  return tabs;
}
