// Keeps the open sketch: in storage, across worker deaths, and to one window at a time.
//
// A change counts as done once its reply has come and `remember` was called with it. A request whose reply never came
// because the worker died is reported as not done (its promise rejects) and is not sent again: the sketch comes back as
// it stood after the last reply, which is what was last on screen as permanent.

import { StoreProblem } from "./database.js";
import { saveFile } from "./files.js";
import { Journal } from "./journal.js";
import * as notices from "./notices.js";
import { createRecovery } from "./recovery.js";
import { createRestorer } from "./restore.js";
import { createSaver } from "./saver.js";
import { createStorageWatch } from "./storage-watch.js";
import { createStore } from "./store.js";
import { createTabs } from "./tabs.js";

/** @typedef {import("./notices.js").Notice} Notice */
/** @typedef {import("./saver.js").OpenSketch} OpenSketch */
/** @typedef {import("./store.js").SketchHead} SketchHead */

/**
 * @typedef {object} KeeperOptions
 * @property {import("./restore.js").EnginePort} engine
 * @property {(state: any) => void} onState  paint this state; any gesture in hand is over
 * @property {(notice: Notice) => void} onNotice  one notice a key; a null text takes it away
 * @property {(readOnly: boolean) => void} onReadOnly  whether the open sketch may only be looked at; said on every change
 * @property {() => Record<string, unknown>} presentation  arguments of `show` as the page stands now (view, sizes, text scale,
 *   touch), asked for whenever a sketch is brought into an engine
 * @property {import("./store.js").Store} [store]
 */

/** The session storage item that names this window's sketch, so that reloading one of two windows finds its own. */
const OWN_SKETCH = "steelyard-sketch";

/** @typedef {ReturnType<typeof createKeeper>} Keeper */

/** @param {KeeperOptions} options */
export function createKeeper({ engine, onState, onNotice, onReadOnly, presentation, store = createStore() }) {
  const me = randomName();
  /** @type {OpenSketch | null} */
  let open = null;
  let readOnly = false;
  /** @type {AbortController | null} */
  let waitingToBeFree = null;

  const restore = createRestorer(engine, presentation);
  const recovery = createRecovery({
    engine, restore, onState, onNotice, offerFile, begin,
    opened: () => open,
    onHistoryLost: save,
  });
  const storage = createStorageWatch({ store, onNotice, offerFile, tryAgain: () => open && save(open) });
  const saver = createSaver({
    store,
    writer: me,
    onOutcome(sketch, outcome) {
      if (sketch !== open) return;
      if (outcome === "conflict") lookOnly(notices.takenElsewhere);
      else storage.ended(outcome, sketch.touched);
    },
  });
  const tabs = createTabs({
    me,
    async onAsked(id) {
      if (open?.id !== id) return;
      setReadOnly(true); // before writing down, so that nothing is done after it
      await saver.flush();
    },
    onLost(id) {
      if (open?.id !== id) return;
      lookOnly(notices.takenElsewhere);
      // A gesture in hand, or an answer that came too late to be kept, is not part of the sketch.
      restore.whole(open).then(onState, () => {});
    },
  });

  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") flush();
  });
  addEventListener("pagehide", () => void flush());

  /** @param {OpenSketch} sketch */
  function save(sketch) {
    if (!readOnly) saver.save(sketch);
  }

  /** Writes down what is not yet in storage. */
  async function flush() {
    // What storage refused before is tried once more: this may be the last chance.
    if (open?.touched && !storage.kept) save(open);
    await saver.flush();
  }

  /** Saves the open sketch as a file without asking the engine, which may be dead. */
  async function offerFile() {
    if (open) await asFile(open);
  }

  // ---- whose sketch it is

  /** @param {boolean} value */
  function setReadOnly(value) {
    readOnly = value;
    onReadOnly(value);
  }

  /**
   * From now on the open sketch is only looked at, until its other window lets go of it.
   * @param {(actions: import("./notices.js").NoticeAction[]) => Notice} notice
   */
  function lookOnly(notice) {
    if (!open) return;
    const { id } = open;
    setReadOnly(true);
    onNotice(notice([
      { label: "Take over", run: takeOver },
      { label: "Work on a copy", run: workOnCopy },
    ]));
    stopWaiting();
    const ended = (waitingToBeFree = new AbortController());
    tabs.whenFree(id, ended.signal).then(async (free) => {
      if (!free) return;
      if (ended.signal.aborted) tabs.release(id);
      else await openKept(id);
    });
  }

  function stopWaiting() {
    waitingToBeFree?.abort();
    waitingToBeFree = null;
  }

  /** Has the other window write its last changes down, then opens the sketch here to be changed. */
  async function takeOver() {
    if (!open) return;
    const { id } = open;
    stopWaiting();
    await tabs.takeOver(id);
    await openKept(id);
  }

  /** Goes on with the sketch as it is on this board under a name of its own, undo history included. */
  async function workOnCopy() {
    if (!open) return;
    const { title, journal, picture } = open;
    await own({ title, journal: journal.copy(), picture, touched: true });
  }

  // ---- opening

  /**
   * Opens a kept sketch to be changed if no other window holds it, else to be looked at.
   * @param {string} id
   * @returns {Promise<boolean>} whether it is on the board; if not, what was there before still is
   */
  async function openKept(id) {
    await tabs.claim(id);
    const stored = await store.read(id).catch(() => null);
    const sketch = stored && asOpen(stored);
    const state = sketch && (await bringIn(sketch));
    if (!state) {
      if (open?.id !== id) tabs.release(id);
      return false;
    }
    // In the task that received the state: replies before it were about the sketch before, later ones are about this.
    putOnBoard(sketch);
    if (!tabs.holds(id)) lookOnly(notices.openElsewhere);
    onState(state);
    return true;
  }

  /**
   * @param {OpenSketch} sketch
   * @returns {Promise<any | null>} the engine's state; null when it could not be brought in, and a notice says so
   */
  async function bringIn(sketch) {
    for (const bringBack of [restore.whole, restore.whole, restore.plain]) {
      try {
        const state = await bringBack(sketch);
        if (bringBack === restore.plain) {
          saver.save(sketch);
          onNotice(notices.historyLost());
        }
        return state;
      } catch {
        // Either it was refused, or the engine died and is being started again with what is on the board.
        if (recovery.running && !(await recovery.running)) return null;
      }
    }
    onNotice(notices.unreadable([{ label: "Save as a file", run: () => asFile(sketch) }, ...recovery.waysOn.slice(1)]));
    return null;
  }

  /**
   * Makes a sketch the open one and lets go of the one before.
   * @param {OpenSketch} sketch
   */
  function putOnBoard(sketch) {
    const left = open;
    const mayBeForgotten = left && !left.touched && !readOnly;
    open = sketch;
    stopWaiting();
    remindOwn(sketch.id);
    setReadOnly(false);
    onNotice(notices.cleared("tabs"));
    if (!left || left.id === sketch.id) return;
    saver.flush().then(async () => {
      // An untouched one can be made again as it was.
      if (mayBeForgotten) await store.forget(left.id).catch(() => {});
      tabs.release(left.id);
    });
  }

  /**
   * Puts a sketch under a new id that this window holds.
   * @param {Pick<OpenSketch, "title" | "journal" | "picture" | "touched">} sketch
   */
  async function own(sketch) {
    const id = randomName();
    putOnBoard({ ...sketch, id, changed: Date.now(), revision: 0, basis: 0 });
    await tabs.claim(id);
    if (open?.id === id) save(open);
  }

  /**
   * A new or opened sketch is on the board: call with the state that `new`, `scenario` or `open` answered.
   * It gets a place of its own in storage; the sketch before it stays as it is.
   * @param {any} state
   */
  async function begin(state) {
    await own({
      title: state.panels.title, journal: new Journal({ document: state.document }), picture: state, touched: false,
    });
  }

  return {
    /** Whether the open sketch may only be looked at. */
    get readOnly() {
      return readOnly;
    },

    /** The id of the open sketch; null before there is one. */
    get id() {
      return open?.id ?? null;
    },

    /** The open sketch as text, as it stands in the journal; null before there is one. */
    get document() {
      return open?.journal.current ?? null;
    },

    /**
     * Finds the sketch this window had open last, else the one changed last anywhere, for painting it before the
     * engine is ready. Call `resume` once the engine is.
     * @returns {Promise<{id: string, title: string, picture: any | null} | null>} null when there is none
     */
    async recall() {
      try {
        const own = ownId();
        const stored = (own && (await store.read(own))) || (await readLast());
        if (!stored) return null;
        open = asOpen(stored);
        return { id: open.id, title: open.title, picture: open.picture };
      } catch (problem) {
        if (!(problem instanceof StoreProblem)) throw problem;
        storage.failed(problem.reason);
        return null;
      }
    },

    /**
     * Opens the recalled sketch in the engine and paints it (`onState`).
     * @returns {Promise<boolean>} false when there is none, or it could not be opened (a notice says so)
     */
    async resume() {
      return open ? openKept(open.id) : false;
    },

    begin,

    /**
     * Something was done to the open sketch: call with the state that came back, in the task that received it.
     * States that changed nothing stored (no entry) may be given too.
     * @param {any} state
     * @param {"commit" | "command" | "undo" | "redo"} did
     */
    remember(state, did) {
      if (!open || readOnly || recovery.running || typeof state.document !== "string") return;
      if (!note(open.journal, state, did)) return;
      open.picture = state;
      open.title = state.panels.title;
      open.changed = Date.now();
      open.touched = true;
      storage.changed();
      recovery.changed();
      save(open);
    },

    /**
     * Call when the engine has crashed (its requests in flight have rejected). Starts it again, opens the sketch with
     * its undo history and paints it; stops at the second crash on one document and offers it as a file.
     * Until it settles, hold back every request of the page's own: the new engine has no sketch yet.
     * @returns {Promise<boolean>} whether the sketch is back
     */
    recover: recovery.start,

    flush,

    /** @returns {Promise<SketchHead[]>} the kept sketches, newest first */
    list: () => store.list(),

    /**
     * Opens a kept sketch in place of the one on the board and paints it (`onState`).
     * @param {string} id
     * @returns {Promise<boolean>}
     */
    async reopen(id) {
      return open?.id === id || openKept(id);
    },

    /**
     * Forgets a kept sketch for good; not the open one.
     * @param {string} id
     * @returns {Promise<boolean>} false while another window has it open: then it is kept
     */
    async forget(id) {
      if (open?.id === id) throw new Error("the open sketch cannot be forgotten: begin another first");
      if (!(await tabs.claim(id))) return false;
      try {
        await store.forget(id);
      } finally {
        tabs.release(id);
      }
      return true;
    },

    takeOver,
    workOnCopy,
    offerFile,
  };

  async function readLast() {
    const id = await store.mark("last");
    return id ? store.read(id) : null;
  }
}

/**
 * @param {{head: SketchHead, journal: import("./journal.js").KeptJournal, picture: any}} stored
 * @returns {OpenSketch}
 */
function asOpen({ head, journal, picture }) {
  const { id, title, changed, touched, revision } = head;
  return { id, title, changed, touched, revision, basis: revision, journal: new Journal(journal, true), picture };
}

/**
 * Notes in the journal what a state says was done.
 * @param {Journal} journal
 * @param {any} state
 * @param {"commit" | "command" | "undo" | "redo"} did
 * @returns {boolean} whether anything was
 */
function note(journal, state, did) {
  if (!state.entry) return false;
  if (did === "undo") journal.undo(state.document);
  else if (did === "redo") journal.redo(state.document);
  else journal.push(state.entry, state.document);
  return true;
}

/** @param {OpenSketch} sketch */
async function asFile({ title, journal }) {
  const name = title.trim().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").toLowerCase();
  await saveFile({ text: journal.current, filename: `${name || "sketch"}.steelyard.json` });
}

function ownId() {
  try {
    return sessionStorage.getItem(OWN_SKETCH);
  } catch {
    return null; // no session storage in this frame
  }
}

/** @param {string} id */
function remindOwn(id) {
  try {
    sessionStorage.setItem(OWN_SKETCH, id);
  } catch {
    // Reloading then opens the sketch that was changed last, in whichever window.
  }
}

/** A name no other sketch or window has; `crypto.randomUUID` is missing on plain http. */
function randomName() {
  return [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
