// When to stop starting the engine again. A change that was made since the last crash shows that the sketch does not
// kill it as it is; two crashes with nothing done between them, within a short while, show that it may.

/** Crashes further apart than this are not held against the sketch. */
const SPAN_MS = 60_000;

/** @param {{span_ms?: number, now?: () => number}} [options] */
export function createCrashLog({ span_ms = SPAN_MS, now = () => performance.now() } = {}) {
  /** @type {{id: string, at: number} | null} */
  let last = null;
  return {
    /**
     * Notes a crash; true when it is the second on one sketch as it stands.
     * @param {string} id
     */
    again(id) {
      const at = now();
      const repeated = last !== null && last.id === id && at - last.at < span_ms;
      last = { id, at };
      return repeated;
    },

    /** The sketch was changed, or is to be tried again. */
    clear() {
      last = null;
    },
  };
}
