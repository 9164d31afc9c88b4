// A dead engine is started again with the open sketch in it; a sketch that kills it is offered as a file instead.

import { createCrashLog } from "./crashes.js";
import * as notices from "./notices.js";

/** @typedef {import("./saver.js").OpenSketch} OpenSketch */

/**
 * @param {object} options
 * @param {import("./restore.js").EnginePort} options.engine
 * @param {ReturnType<typeof import("./restore.js").createRestorer>} options.restore
 * @param {() => OpenSketch | null} options.opened
 * @param {(state: any) => void} options.onState
 * @param {(sketch: OpenSketch) => void} options.onHistoryLost
 * @param {(notice: notices.Notice) => void} options.onNotice
 * @param {() => void | Promise<void>} options.offerFile
 * @param {(state: any) => Promise<void>} options.begin
 */
export function createRecovery({ engine, restore, opened, onState, onHistoryLost, onNotice, offerFile, begin }) {
  const crashes = createCrashLog();
  /** @type {Promise<boolean> | null} */
  let running = null;

  async function recover() {
    const sketch = opened();
    if (!sketch) {
      await engine.restart();
      return false;
    }
    if (crashes.again(sketch.id)) {
      onNotice(notices.stopped(waysOn));
      return false;
    }
    onNotice(notices.restarting());
    // A failed attempt means that the new worker died too, or that the engine refuses the journal.
    for (const bringBack of [restore.whole, restore.whole, restore.plain]) {
      try {
        await engine.restart();
        onState(await bringBack(sketch));
      } catch {
        continue;
      }
      if (bringBack === restore.plain) {
        onHistoryLost(sketch);
        onNotice(notices.historyLost());
      } else onNotice(notices.cleared("engine"));
      return true;
    }
    onNotice(notices.stopped(waysOn));
    return false;
  }

  function start() {
    running ??= recover().finally(() => (running = null));
    return running;
  }

  const waysOn = [
    { label: "Save as a file", run: offerFile },
    {
      label: "Try once more",
      async run() {
        crashes.clear();
        await start();
      },
    },
    {
      label: "New sketch",
      async run() {
        await engine.restart();
        const state = await restore.blank();
        await begin(state);
        onState(state);
        onNotice(notices.cleared("engine"));
      },
    },
  ];

  return {
    /** The recovery under way, if any. */
    get running() {
      return running;
    },
    /** A change was made and answered: the engine can live with this sketch. */
    changed: crashes.clear,
    start,
    waysOn,
  };
}
