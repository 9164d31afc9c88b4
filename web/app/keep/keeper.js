// Keeps the open sketch: in storage, across worker deaths, and to one window at a time.
//
// A change counts as done once its reply has come and `remember` was called with it. A request whose reply never came
// because the worker died is reported as not done (its promise rejects) and is not sent again: the sketch comes back as
// it stood after the last reply, which is what was last on screen as permanent.

import { createCrashLog } from "./crashes.js";
import { StoreProblem } from "./database.js";
import { saveFile } from "./files.js";
import { Journal } from "./journal.js";
import * as notices from "./notices.js";
import { createSaver } from "./saver.js";
import { createStore } from "./store.js";
import { createTabs } from "./tabs.js";

/** @typedef {import("./notices.js").Notice} Notice */
/** @typedef {import("./saver.js").OpenSketch} OpenSketch */
/** @typedef {import("./store.js").SketchHead} SketchHead */

/**
 * What the keeper needs of the engine.
 * @typedef {object} EnginePort
 * @property {(request: {do: string, [argument: string]: unknown}) => Promise<any>} ask  resolves with the reply;
 *   rejects when the reply is a failure, and when the worker dies before it answers
 * @property {() => Promise<void>} restart  ends the worker if there is one, starts a new one, resolves once it is ready
 */

/**
 * @typedef {object} KeeperOptions
 * @property {EnginePort} engine
 * @property {(state: any) => void} onState  paint this state; any gesture in hand is over
 * @property {(notice: Notice) => void} onNotice
 * @property {(readOnly: boolean) => void} onReadOnly  whether the open sketch may be changed here; said on every change
 * @property {() => {[argument: string]: unknown}} presentation  arguments of `show` as the page stands now (view, sizes, text
 *   scale, touch), asked for whenever a sketch is opened in a new engine
 * @property {import("./store.js").Store} [store]
 */

/** The session storage item that names this window's sketch, so that reloading one of two windows finds its own. */
const OWN_SKETCH = "steelyard-sketch";

/** @typedef {ReturnType<typeof createKeeper>} Keeper */

/** @param {KeeperOptions} options */
export function createKeeper({ engine, onState, onNotice, onReadOnly, presentation, store = createStore() }) {
  const me = randomName();
  const crashes = createCrashLog();
  /** @type {OpenSketch | null} */
  let open = null;
  let readOnly = false;
  /** @type {Promise<boolean> | null} */
  let recovering = null;
  /** @type {AbortController | null} */
  let waitingToBeFree = null;
  let kept = true;
  let askedToPersist = false;

  const saver = createSaver({ store, writer: me, onOutcome });
  const tabs = createTabs({
    me,
    async onAsked(id) {
      if (open?.id !== id) return;
      setReadOnly(true); // before writing down, so that nothing is done after it
      await saver.flush();
    },
    onLost(id) {
      if (open?.id === id) look(notices.takenElsewhere);
    },
  });

  // ---- storage

  /** @type {Parameters<typeof createSaver>[0]["onOutcome"]} */
  function onOutcome(sketch, outcome) {
    if (sketch !== open) return;
    if (outcome === "conflict") {
      look(notices.takenElsewhere);
      return;
    }
    const asFile = { label: "Save as a file", run: offerFile };
    if (outcome === "kept") {
      if (!kept) onNotice(notices.cleared("storage"));
      kept = true;
      persistOnce(sketch);
    } else if (outcome === "kept-short") {
      kept = true;
      onNotice(notices.keptShort([asFile]));
    } else {
      kept = false;
      onNotice(notices.notKept(outcome, [asFile, { label: "Try again", run: () => save(sketch) }]));
    }
    warnBeforeLeaving(!kept && sketch.touched);
  }

  /** @param {OpenSketch} sketch */
  function save(sketch) {
    if (!readOnly) saver.save(sketch);
  }

  /** @param {OpenSketch} sketch */
  async function persistOnce(sketch) {
    if (askedToPersist || !sketch.touched) return;
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

  async function offerFile() {
    if (!open) return;
    const name = open.title.trim().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").toLowerCase();
    await saveFile({ text: open.journal.current, filename: `${name || "sketch"}.json` });
  }

  async function flush() {
    // What storage refused before is tried once more: this may be the last chance.
    if (open && !kept) save(open);
    await saver.flush();
  }

  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") flush();
  });
  addEventListener("pagehide", () => void flush());

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
  function look(notice) {
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
      if (free && !ended.signal.aborted) await openKept(id);
      else if (free) tabs.release(id);
    });
  }

  function stopWaiting() {
    waitingToBeFree?.abort();
    waitingToBeFree = null;
  }

  /** Leaves the sketch that is open. An untouched one is forgotten: it can be made again as it was. */
  async function leave() {
    stopWaiting();
    if (!open) return;
    const left = open;
    if (!readOnly) {
      await saver.flush();
      if (!left.touched) await store.forget(left.id).catch(() => {});
    }
    tabs.release(left.id);
    open = null;
    onNotice(notices.cleared("tabs"));
  }

  // ---- opening

  /**
   * @param {{head: SketchHead, journal: import("./journal.js").KeptJournal, picture: any}} stored
   * @returns {OpenSketch}
   */
  function asOpen({ head, journal, picture }) {
    const { id, title, changed, touched, revision } = head;
    return { id, title, changed, touched, revision, basis: revision, journal: new Journal(journal), picture };
  }

  /** @param {string} id */
  function remindOwn(id) {
    try {
      sessionStorage.setItem(OWN_SKETCH, id);
    } catch {
      // Reloading then opens the sketch that was changed last, in whichever window.
    }
  }

  /**
   * Opens a kept sketch that this window holds, or may only look at.
   * @param {string} id
   * @returns {Promise<boolean>}
   */
  async function openKept(id) {
    const mine = await tabs.claim(id);
    const stored = await store.read(id);
    if (!stored) {
      tabs.release(id);
      return false;
    }
    stopWaiting();
    open = asOpen(stored);
    remindOwn(id);
    if (mine) {
      setReadOnly(false);
      onNotice(notices.cleared("tabs"));
    } else look(notices.openElsewhere);
    return bringBack(open);
  }

  /**
   * Opens the sketch in the engine with its history; without it if that does not work.
   * @param {OpenSketch} sketch
   */
  async function bringBack(sketch) {
    try {
      onState(await replay(sketch));
      return true;
    } catch {
      if (recovering) return recovering; // the worker died meanwhile: that way brings it back too
    }
    try {
      onState(await openPlain(sketch));
      onNotice(notices.historyLost());
      return true;
    } catch {
      if (recovering) return recovering;
      onNotice(notices.unreadable(waysOn()));
      return false;
    }
  }

  /** @param {OpenSketch} sketch */
  async function replay(sketch) {
    const { journal } = sketch;
    await engine.ask({ do: "show", ...presentation() });
    const state = await engine.ask({ do: "open", ...journal.replay() });
    if (typeof state.document === "string" && state.document !== journal.current) {
      throw new Error("the journal does not lead to the sketch that was kept");
    }
    sketch.picture = state;
    return state;
  }

  /** @param {OpenSketch} sketch */
  async function openPlain(sketch) {
    const document = sketch.journal.current;
    await engine.ask({ do: "show", ...presentation() });
    const state = await engine.ask({ do: "open", document });
    sketch.journal = new Journal({ document, first: sketch.journal.kept().first + sketch.journal.length });
    sketch.picture = state;
    save(sketch);
    return state;
  }

  // ---- a dead worker

  const ATTEMPTS = [replay, replay, openPlain];

  async function bringBackAfterCrash() {
    if (!open) {
      await engine.restart();
      return true;
    }
    const sketch = open;
    if (crashes.again(sketch.id, sketch.journal.current)) {
      onNotice(notices.stopped(waysOn()));
      return false;
    }
    onNotice(notices.restarting());
    for (const attempt of ATTEMPTS) {
      try {
        await engine.restart();
        onState(await attempt(sketch));
        onNotice(attempt === openPlain ? notices.historyLost() : notices.cleared("engine"));
        return true;
      } catch {
        // Either the new worker died too or the journal was refused: the next attempt asks for less.
      }
    }
    onNotice(notices.stopped(waysOn()));
    return false;
  }

  /** What can be done about a sketch the engine cannot hold. */
  function waysOn() {
    return [
      { label: "Save as a file", run: offerFile },
      {
        label: "Try once more",
        async run() {
          crashes.clear();
          await keeper.recover();
        },
      },
      {
        label: "New sketch",
        async run() {
          await engine.restart();
          await engine.ask({ do: "show", ...presentation() });
          const state = await engine.ask({ do: "new" });
          await keeper.begin(state);
          onState(state);
          onNotice(notices.cleared("engine"));
        },
      },
    ];
  }

  // ---- two windows

  async function takeOver() {
    if (!open) return;
    const { id } = open;
    stopWaiting();
    await tabs.takeOver(id);
    await openKept(id);
  }

  async function workOnCopy() {
    if (!open) return;
    stopWaiting();
    const { title, journal, picture } = open;
    const id = randomName();
    open = {
      id, title, picture, touched: true, changed: Date.now(), revision: 0, basis: 0,
      journal: new Journal({ ...journal.replay(), current: journal.current }),
    };
    await tabs.claim(id);
    remindOwn(id);
    setReadOnly(false);
    onNotice(notices.cleared("tabs"));
    save(open);
  }

  const keeper = {
    /** Whether the open sketch may only be looked at. */
    get readOnly() {
      return readOnly;
    },

    /** The id of the open sketch; null before there is one. */
    get id() {
      return open?.id ?? null;
    },

    /**
     * Finds the sketch this window had open last, else the one changed last anywhere, for painting it before the
     * engine is ready. Call `resume` once the engine is.
     * @returns {Promise<{id: string, title: string, picture: any | null} | null>} null when there is none
     */
    async recall() {
      try {
        let own = null;
        try {
          own = sessionStorage.getItem(OWN_SKETCH);
        } catch {
          // no session storage in this frame
        }
        const stored = (own && (await store.read(own))) || (await readLast());
        if (!stored) return null;
        open = asOpen(stored);
        return { id: open.id, title: open.title, picture: open.picture };
      } catch (problem) {
        if (!(problem instanceof StoreProblem)) throw problem;
        kept = false;
        onNotice(notices.notKept(problem.reason, []));
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

    /**
     * A new or opened sketch is on the board: call with the state that `new`, `scenario` or `open` answered.
     * It gets a place of its own in storage; the sketch before it stays as it is.
     * @param {any} state
     */
    async begin(state) {
      await leave();
      const id = randomName();
      await tabs.claim(id);
      open = {
        id, title: state.panels.title, picture: state, touched: false, changed: Date.now(), revision: 0, basis: 0,
        journal: new Journal({ document: state.document }),
      };
      remindOwn(id);
      setReadOnly(false);
      save(open);
    },

    /**
     * Something was done to the open sketch: call with the state that came back, in the task that received it.
     * States that changed nothing stored (no entry, same document) may be given too.
     * @param {any} state
     * @param {"commit" | "command" | "undo" | "redo"} did
     */
    remember(state, did) {
      if (!open || typeof state.document !== "string") return;
      const { journal } = open;
      open.picture = state;
      if (did === "undo" && journal.at > 0 && state.document !== journal.current) journal.undo(state.document);
      else if (did === "redo" && journal.at < journal.length && state.document !== journal.current) journal.redo(state.document);
      else if ((did === "commit" || did === "command") && state.entry) journal.push(state.entry, state.document);
      else return;
      open.title = state.panels.title;
      open.changed = Date.now();
      open.touched = true;
      if (!kept) warnBeforeLeaving(true);
      save(open);
    },

    /**
     * Call when the engine has crashed (its requests in flight have rejected). Starts it again, opens the sketch with
     * its undo history and paints it; stops after the second crash on one document and offers it as a file.
     * @returns {Promise<boolean>} whether the sketch is back
     */
    recover() {
      recovering ??= bringBackAfterCrash().finally(() => (recovering = null));
      return recovering;
    },

    /** Writes down what is not yet in storage. */
    flush,

    /** @returns {Promise<SketchHead[]>} the kept sketches, newest first */
    list: () => store.list(),

    /**
     * Opens a kept sketch in place of the one on the board.
     * @param {string} id
     * @returns {Promise<boolean>}
     */
    async reopen(id) {
      if (open?.id === id) return true;
      await leave();
      return openKept(id);
    },

    /**
     * Forgets a kept sketch for good; not the open one.
     * @param {string} id
     */
    async forget(id) {
      if (open?.id === id) throw new Error("the open sketch cannot be forgotten: begin another first");
      await store.forget(id);
    },

    takeOver,
    workOnCopy,
    offerFile,
  };

  async function readLast() {
    const id = await store.mark("last");
    return id ? store.read(id) : null;
  }

  return keeper;
}

/** @param {BeforeUnloadEvent} event */
function warnOfLoss(event) {
  event.preventDefault();
}

/** A name no other sketch or window has; `crypto.randomUUID` is missing on plain http. */
function randomName() {
  return [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
