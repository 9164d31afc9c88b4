// The engine's worker. First an object says what to do; then each message is one JSON string for the engine, and each
// answer one JSON string. What the worker itself has to say is an object.

import { boot, takeMemory } from "./boot.js";
import { keepSnapshot } from "./snapshot.js";

/** @typedef {{does: "serve", plainOnly: boolean} | {does: "keep-snapshot"}} Order */
/**
 * @typedef {{says: "step", step: import("./steps.js").Step}
 *   | {says: "ready", way: import("./boot.js").Way}
 *   | {says: "failed", code: string, message: string}
 *   | {says: "crashed", message: string}
 *   | {says: "kept"}} Word
 */

/** @param {Word} word */
const say = (word) => self.postMessage(word);

self.addEventListener("message", (event) => obey(event.data), { once: true });

/** @param {Order} order */
async function obey(order) {
  try {
    if (order.does === "keep-snapshot") {
      await keepSnapshot(await takeMemory());
      say({ says: "kept" });
      return;
    }
    const { door, way } = await boot((step) => say({ says: "step", step }), order);
    self.addEventListener("message", (event) => answer(door, event.data));
    say({ says: "ready", way });
  } catch (error) {
    say({ says: "failed", code: /** @type {any} */ (error)?.code ?? "", message: lastLine(error) });
  }
}

/**
 * What went wrong, without the traceback that Python puts before it.
 * @param {unknown} error
 */
function lastLine(error) {
  return String(error).trim().split("\n").at(-1) ?? "";
}

/**
 * @param {import("./boot.js").Door} door
 * @param {string} text
 */
function answer(door, text) {
  try {
    self.postMessage(door(text));
  } catch (error) {
    say({ says: "crashed", message: String(error) });
  }
}
