// Says whether the open sketch is kept: notices, the warning before leaving, the wish to be kept for good.

import * as notices from "./notices.js";

/**
 * @param {object} options
 * @param {import("./store.js").Store} options.store
 * @param {(notice: notices.Notice) => void} options.onNotice
 * @param {() => void | Promise<void>} options.offerFile
 * @param {() => void} options.tryAgain
 */
export function createStorageWatch({ store, onNotice, offerFile, tryAgain }) {
  let kept = true;
  let askedToPersist = false;
  const asFile = { label: "Save as a file", run: offerFile };

  async function persistOnce() {
    if (askedToPersist) return;
    askedToPersist = true;
    try {
      if (await store.mark("asked-to-persist")) return;
      await store.setMark("asked-to-persist", true);
      await navigator.storage?.persist?.();
    } catch {
      // Only a wish: without it the browser may clear the sketches after long disuse.
    }
  }

  /** @param {boolean} warn */
  function warnBeforeLeaving(warn) {
    removeEventListener("beforeunload", warnOfLoss);
    if (warn) addEventListener("beforeunload", warnOfLoss);
  }

  return {
    /** Whether the last writing reached storage. */
    get kept() {
      return kept;
    },

    /** Storage could not even be looked into. @param {import("./database.js").StoreReason} reason */
    failed(reason) {
      kept = false;
      onNotice(notices.notKept(reason, []));
    },

    /** Something was changed since. */
    changed() {
      if (!kept) warnBeforeLeaving(true);
    },

    /**
     * How a writing of the open sketch ended.
     * @param {Exclude<import("./saver.js").Outcome, "conflict">} outcome
     * @param {boolean} touched
     */
    ended(outcome, touched) {
      const wasKept = kept;
      kept = outcome === "kept" || outcome === "kept-short";
      if (outcome === "kept-short") onNotice(notices.keptShort([asFile]));
      else if (outcome !== "kept") onNotice(notices.notKept(outcome, [asFile, { label: "Try again", run: tryAgain }]));
      else if (!wasKept) onNotice(notices.cleared("storage"));
      if (kept && touched) persistOnce();
      warnBeforeLeaving(!kept && touched);
    },
  };
}

/** @param {BeforeUnloadEvent} event */
function warnOfLoss(event) {
  event.preventDefault();
}
