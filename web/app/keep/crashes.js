// When to stop starting the engine again. A change that was made since the last crash shows that the sketch is not
// what kills it; two crashes on the very same sketch within a short while show that it may be.

/** Crashes further apart than this are not held against the sketch. */
const SPAN_MS = 60_000;

/** @param {{span_ms?: number, now?: () => number}} [options] */
export function createCrashLog({ span_ms = SPAN_MS, now = () => performance.now() } = {}) {
  /** @type {{id: string, document: string, at: number} | null} */
  let last = null;
  return {
    /**
     * Notes a crash; true when it is the second on one document.
     * @param {string} id
     * @param {string} document
     */
    again(id, document) {
      const at = now();
      const repeated = last !== null && last.id === id && last.document === document && at - last.at < span_ms;
      last = { id, document, at };
      return repeated;
    },

    clear() {
      last = null;
    },
  };
}
