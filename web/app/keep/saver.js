// Writes the open sketch down, one writing at a time: changes made meanwhile go with the next. When storage is full it
// gives up the picture first, then the steps that were done before now, and only then says that nothing is kept.

import { StoreProblem } from "./database.js";

/** @typedef {import("./journal.js").Journal} Journal */
/** @typedef {import("./store.js").Store} Store */

/**
 * A sketch this page may change.
 * @typedef {object} OpenSketch
 * @property {string} id
 * @property {string} title
 * @property {number} changed
 * @property {boolean} touched
 * @property {number} revision
 * @property {number} basis
 * @property {Journal} journal
 * @property {any} picture  the last state reply
 */

/**
 * How a writing ended: "kept"; "kept-short" (kept, but undo will not reach back before now after closing);
 * or why it is only in memory.
 * @typedef {"kept" | "kept-short" | import("./database.js").StoreReason} Outcome
 */

/**
 * @param {object} options
 * @param {Store} options.store
 * @param {string} options.writer  name of this window
 * @param {(sketch: OpenSketch, outcome: Outcome) => void} options.onOutcome
 */
export function createSaver({ store, writer, onOutcome }) {
  /** @type {Set<OpenSketch>} */
  const waiting = new Set();
  /** @type {Set<Promise<void>>} */
  const writing = new Set();
  let roomForPictures = true;

  /** @param {OpenSketch} sketch */
  async function attempt(sketch, /** @type {unknown} */ picture) {
    const since = sketch.journal.takeUnsaved();
    sketch.revision += 1;
    const { id, title, changed, touched, revision } = sketch;
    try {
      const head = { id, title, changed, touched, revision, writer };
      await store.save(head, sketch.journal.kept(), { since, picture, basis: sketch.basis });
    } catch (problem) {
      sketch.journal.stillUnsaved(since);
      throw problem;
    }
  }

  /**
   * @param {OpenSketch} sketch
   * @returns {Promise<Outcome>}
   */
  async function write(sketch) {
    try {
      await attempt(sketch, roomForPictures ? sketch.picture : undefined);
      return "kept";
    } catch (problem) {
      if (reasonOf(problem) !== "full") return failed(sketch, problem);
    }
    try {
      roomForPictures = false;
      await store.dropPictures();
      await attempt(sketch, null);
      return "kept";
    } catch (problem) {
      if (reasonOf(problem) !== "full") return failed(sketch, problem);
    }
    try {
      sketch.journal.rebase();
      await attempt(sketch, null);
      return "kept-short";
    } catch (problem) {
      return failed(sketch, problem);
    }
  }

  /**
   * @param {OpenSketch} sketch
   * @param {unknown} problem
   * @returns {Outcome}
   */
  function failed(sketch, problem) {
    if (problem instanceof StoreProblem) {
      // Storage that was only slow may have written it after all.
      problem.late?.then(() => onOutcome(sketch, "kept"), () => {});
    }
    return reasonOf(problem);
  }

  /** @param {OpenSketch} sketch */
  function start(sketch) {
    waiting.delete(sketch);
    const one = write(sketch).then((outcome) => onOutcome(sketch, outcome));
    const tracked = one.finally(() => {
      writing.delete(tracked);
      const next = waiting.values().next();
      if (!next.done && writing.size === 0) start(next.value);
    });
    writing.add(tracked);
  }

  return {
    /**
     * Writes the sketch down soon.
     * @param {OpenSketch} sketch
     */
    save(sketch) {
      waiting.add(sketch);
      if (writing.size === 0) start(sketch);
    },

    /** Writes what waits at once and answers when all of it is in storage, or known not to be. */
    async flush() {
      for (const sketch of [...waiting]) start(sketch);
      while (writing.size > 0) await Promise.all(writing);
    },
  };
}

/**
 * @param {unknown} problem
 * @returns {import("./database.js").StoreReason}
 */
function reasonOf(problem) {
  if (problem instanceof StoreProblem) return problem.reason;
  console.error(problem);
  return "unavailable";
}
